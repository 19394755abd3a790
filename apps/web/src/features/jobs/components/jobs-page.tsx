'use client';

import type { Job } from '@repo/contracts';
import { ExportButton } from '@/features/exports';
import { useDates, useTranslate } from '@/lib/i18n/i18n';
import { FailedNote } from '@/lib/states';
import { useUrlState } from '@/lib/url-state';
import { LoadingNote, StateNote } from '@/ui/notice';
import { Segments } from '@/ui/segments';
import { PageHead, Panel } from '@/ui/panel';
import { StackedPanels } from '@/ui/stack';
import { Table } from '@/ui/table';
import { isOpenJob, useJobs } from '../use-jobs';
import { JobOutcome } from './job-outcome';
import { JobProgress, useJobName } from './job-progress';

const SHOWN = ['all', 'open', 'failed'] as const;
type Shown = (typeof SHOWN)[number];

const isShown = (job: Job, shown: Shown): boolean =>
  shown === 'all' || (shown === 'open' ? isOpenJob(job) : job.state === 'failed');

/** "What runs, and did anything fail?" */
export function JobsPage() {
  const t = useTranslate();
  const dates = useDates();
  const nameOf = useJobName();
  const { get, set } = useUrlState();
  const shown: Shown = SHOWN.find((value) => value === get('show')) ?? 'all';
  const query = useJobs();
  const jobs = query.data?.data.items ?? [];
  const open = jobs.filter(isOpenJob).length;
  const failed = jobs.filter((job) => job.state === 'failed').length;
  const rows = jobs.filter((job) => isShown(job, shown));
  return (
    <>
      <PageHead
        title={open === 0 ? t('jobs.title.none') : t('jobs.title.count', { count: open })}
        under={failed > 0 ? t('jobs.title.failed', { count: failed }) : undefined}
        actions={<ExportButton tables={['jobs']} />}
      />
      <StackedPanels>
        <div>
          <Segments<Shown>
            label={t('jobs.show')}
            value={shown}
            choices={SHOWN.map((value) => ({ value, label: t(`jobs.show.${value}`) }))}
            onChange={(value) => set({ show: value === 'all' ? null : value })}
          />
        </div>
        {query.error !== null && jobs.length === 0 ? (
          <FailedNote error={query.error} onRetry={() => void query.refetch()} />
        ) : null}
        {query.isPending ? <LoadingNote text={t('state.loading')} /> : null}
        {query.isSuccess && rows.length === 0 ? (
          <StateNote title={t('jobs.empty')}>{t('jobs.emptyText')}</StateNote>
        ) : null}
        {rows.length === 0 ? null : (
          <Panel label={t('nav.jobs')}>
            <Table
              caption={t('nav.jobs')}
              rows={rows}
              rowKey={(job) => job.id}
              columns={[
                { key: 'job', title: t('jobs.job'), isName: true, cell: nameOf },
                {
                  key: 'asked',
                  title: t('jobs.asked'),
                  cell: (job) => `${dates.atDay(job.createdAt)}, ${job.requestedByName}`,
                },
                {
                  key: 'state',
                  title: t('jobs.state'),
                  cell: (job) => (isOpenJob(job) ? <JobProgress job={job} /> : t(`jobs.state.${job.state}`)),
                },
                { key: 'result', title: t('jobs.result'), cell: (job) => <JobOutcome job={job} /> },
              ]}
            />
          </Panel>
        )}
      </StackedPanels>
    </>
  );
}
