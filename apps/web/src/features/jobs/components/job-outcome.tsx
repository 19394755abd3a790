'use client';

import type { Job } from '@repo/contracts';
import Link from 'next/link';
import { useTranslate, type Translate } from '@/lib/i18n/i18n';
import styles from './jobs.module.css';

const COUNTS = ['rows', 'records', 'circuits'] as const;

const sayResult = (t: Translate, result: Record<string, unknown>): string =>
  COUNTS.flatMap((name) => {
    const count = result[name];
    return typeof count === 'number' ? [t.count(`jobs.${name}`, count)] : [];
  }).join(', ');

/** What came of a job: its result and where to see it, or what went wrong and at which row. */
export function JobOutcome({ job }: { job: Job }) {
  const t = useTranslate();
  const importId = job.parameters['importId'];
  return (
    <div className={styles['outcome']}>
      {job.problem === null ? null : (
        <div>
          <p>{t.find(`problem.${job.problem.code}`) ?? job.problem.title}</p>
          {job.problem.detail === job.problem.title ? null : <p className={styles['quiet']}>{job.problem.detail}</p>}
          {job.problem.errors === undefined ? null : (
            <ul className={styles['quiet']}>
              {job.problem.errors.map((error) => (
                <li key={`${error.pointer} ${error.code}`}>
                  {[error.got, error.code].filter((part) => part !== '').join(': ')}
                </li>
              ))}
            </ul>
          )}
        </div>
      )}
      {job.result === null ? null : <p>{sayResult(t, job.result)}</p>}
      {typeof importId === 'string' ? <Link href={`/imports/${importId}`}>{t('jobs.open')}</Link> : null}
    </div>
  );
}
