'use client';

import { routes, type Source } from '@repo/contracts';
import { Link } from '@/ui/link';
import { ExportButton } from '@/features/exports';
import { useApiPages } from '@/lib/api/hooks';
import { useDates, useTranslate } from '@/lib/i18n/i18n';
import { useMay } from '@/lib/session/session';
import { FailedNote } from '@/lib/states';
import { ListEnd } from '@/lib/list-end';
import { LoadingNote, StateNote } from '@/ui/notice';
import { PageHead, Panel } from '@/ui/panel';
import { Table } from '@/ui/table';
import { ClockOffset, SourceState } from './source-words';
import { AddSource } from './source-secret';

function useTitle(sources: readonly Source[]): string {
  const t = useTranslate();
  const silent = sources.filter((source) => source.isSilent).length;
  if (sources.length === 0) return t('nav.sources');
  return silent === 0
    ? t('sources.title.well', { count: sources.length })
    : t('sources.title.silent', { count: silent, total: sources.length });
}

/** "Does every gateway report?" */
export function SourcesPage() {
  const t = useTranslate();
  const dates = useDates();
  const may = useMay();
  const { query, items } = useApiPages(routes.sources.list, { query: { limit: 100 } });
  const title = useTitle(items);
  const toSettle = items.reduce((sum, source) => sum + source.openFindings, 0);
  const mayAdd = may(routes.sources.create);
  return (
    <>
      <PageHead
        title={query.isSuccess ? title : t('nav.sources')}
        under={toSettle === 0 ? undefined : t('sources.under', { count: toSettle })}
        actions={
          <>
            {mayAdd && items.length > 0 ? <AddSource look="quiet" /> : null}
            <ExportButton
              tables={['sources', 'source-machines', 'deliveries', 'findings', 'alarm-counts', 'alarm-rules']}
            />
          </>
        }
      />
      {query.error !== null && items.length === 0 ? (
        <FailedNote error={query.error} onRetry={() => void query.refetch()} />
      ) : null}
      {query.isPending ? <LoadingNote text={t('state.loading')} /> : null}
      {query.isSuccess && items.length === 0 ? (
        <StateNote title={t('sources.empty')} actions={mayAdd ? <AddSource look="strong" /> : undefined}>
          {t('sources.emptyText')}
        </StateNote>
      ) : null}
      {items.length === 0 ? null : (
        <Panel label={t('nav.sources')}>
          <Table
            caption={t('nav.sources')}
            rows={items}
            rowKey={(source) => source.id}
            columns={[
              {
                key: 'name',
                title: t('sources.name'),
                isName: true,
                cell: (source) => <Link href={`/sources/${source.id}`}>{source.name}</Link>,
              },
              { key: 'state', title: t('sources.state'), cell: (source) => <SourceState source={source} /> },
              {
                key: 'heard',
                title: t('sources.lastHeard'),
                cell: (source) => (source.lastHeardAt === null ? t('sources.never') : dates.atTime(source.lastHeardAt)),
              },
              { key: 'clock', title: t('sources.clock'), cell: (source) => <ClockOffset source={source} /> },
              {
                key: 'machines',
                title: t('sources.machines'),
                isNumber: true,
                cell: (source) => source.machineCount,
              },
              {
                key: 'findings',
                title: t('sources.openFindings'),
                isNumber: true,
                cell: (source) => source.openFindings,
              },
            ]}
          />
          <ListEnd query={query} />
        </Panel>
      )}
    </>
  );
}
