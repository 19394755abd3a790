'use client';

import { routes, type Job } from '@repo/contracts';
import { useApiChange } from '@/lib/api/hooks';
import { useTranslate } from '@/lib/i18n/i18n';
import { Button } from '@/ui/button';
import { isOpenJob } from '../use-jobs';
import styles from './jobs.module.css';

export function useJobName(): (job: Job) => string {
  const t = useTranslate();
  return (job) => t.find(`jobs.kind.${job.kind}`) ?? job.kind;
}

const MINUTE_S = 60;
const PERCENT = 100;

/** How far a job is: a bar, the step in words, what is left; and a way to stop it. */
export function JobProgress({ job }: { job: Job }) {
  const t = useTranslate();
  const nameOf = useJobName();
  const cancel = useApiChange(routes.jobs.cancel);
  if (!isOpenJob(job)) return null;
  const step = t.find(`jobs.step.${job.step}`) ?? t(`jobs.state.${job.state}`);
  const left =
    job.etaS === null
      ? null
      : t('jobs.left', {
          time:
            job.etaS < MINUTE_S
              ? t('jobs.seconds', { count: Math.max(1, job.etaS) })
              : t('jobs.minutes', { count: Math.round(job.etaS / MINUTE_S) }),
        });
  const percent = Math.round(job.progress * PERCENT);
  return (
    <div className={styles['progress']}>
      <progress max={PERCENT} value={job.state === 'queued' ? undefined : percent} aria-label={nameOf(job)} />
      <p role="status">
        {[
          job.cancelRequestedAt === null ? step : t('jobs.cancelling'),
          job.total === null || job.total <= 1 || job.done === null
            ? null
            : t('jobs.progress', {
                done: job.done,
                total: job.total,
              }),
          left,
          job.attempts > 1 ? t('jobs.tries', { attempts: job.attempts }) : null,
        ]
          .filter((part) => part !== null)
          .join(' · ')}
      </p>
      {job.canCancel ? (
        <Button
          disabled={cancel.isPending}
          aria-label={t('jobs.cancelOf', { job: nameOf(job) })}
          onClick={() => cancel.mutate({ params: { id: job.id } })}
        >
          {t('jobs.cancel')}
        </Button>
      ) : null}
    </div>
  );
}
