'use client';

import { routes, type Standing, type StandingCounts } from '@repo/contracts';
import { useCallback, useEffect, useRef, type ComponentProps, type ReactNode } from 'react';
import { Link } from '@/ui/link';
import { ExportButton } from '@/features/exports';
import { useApi, useApiPages } from '@/lib/api/hooks';
import { useDates, useTranslate, type Translate } from '@/lib/i18n/i18n';
import { MiniPressureLadder, toSharedAxis } from '@/lib/pressure-ladder/mini-pressure-ladder-view';
import { UnitSwitch } from '@/lib/quantity/unit-switch';
import { FailedNote } from '@/lib/states';
import { Status } from '@/lib/status/status';
import { ListEnd } from '@/lib/list-end';
import { LoadingNote, StateNote } from '@/ui/notice';
import { PageHead, Panel } from '@/ui/panel';
import { Table } from '@/ui/table';
import styles from './machine.module.css';

/** All that a customer may take along of what is theirs. */
const TABLES: ComponentProps<typeof ExportButton>['tables'] = [
  'circuit-standings',
  'machines',
  'circuits',
  'fixtures',
  'fixture-elements',
  'operations',
  'ended-operations',
  'target-settings',
  'setup-records',
  'service-events',
];

/** So many rows are more than a window shows; the next come as its end comes near. */
const PAGE = 25;
const NEAR_PX = 800;

/** Where the rows end: what comes near the window asks for more of them. */
function NearEnd({ hasMore, onNear }: { hasMore: boolean; onNear: () => void }) {
  const end = useRef<HTMLDivElement>(null);
  useEffect(() => {
    if (end.current === null || !hasMore) return undefined;
    const watch = new IntersectionObserver(
      (entries) => {
        if (entries.some(({ isIntersecting }) => isIntersecting)) onNear();
      },
      { rootMargin: `${NEAR_PX}px` },
    );
    watch.observe(end.current);
    return () => watch.disconnect();
  }, [hasMore, onNear]);
  return <div ref={end} />;
}

function toTitle(counts: StandingCounts | undefined, t: Translate): string {
  if (counts === undefined) return t('portal.title');
  const need = counts.fails + counts.marginal + counts.unproven;
  return need === 0 && counts.awaiting > 0
    ? t('portal.title.awaiting', { count: counts.awaiting })
    : need === 0
      ? t('portal.title.right', { count: counts.total })
      : t('portal.title.need', { count: need, total: counts.total });
}

function OwnMachines({ rows, more }: { rows: readonly Standing[]; more: ReactNode }) {
  const t = useTranslate();
  const dates = useDates();
  const axis = toSharedAxis(rows.map((standing) => standing.marks));
  return (
    <Panel title={t('portal.machines')}>
      <Table
        caption={t('portal.machines')}
        rows={rows}
        rowKey={(standing) => standing.circuitId}
        columns={[
          {
            key: 'machine',
            title: t('fleet.machine'),
            isName: true,
            cell: (standing) => (
              <Link href={`/portal/machines/${standing.machineId}`}>
                {standing.machineName}, {standing.circuitName}
              </Link>
            ),
          },
          { key: 'site', title: t('machine.site'), cell: (standing) => `${standing.siteName}, ${standing.place}` },
          {
            key: 'ladder',
            title: t('pressureLadder.title'),
            cell: (standing) => (
              <MiniPressureLadder marks={standing.marks} status={standing.status} {...axis} widthPx={220} size="line" />
            ),
          },
          {
            key: 'status',
            title: t('fleet.standing'),
            cell: (standing) => (
              <>
                <Status status={standing.status} /> <span>{t(`portal.short.${standing.status}`)}</span>{' '}
                {standing.awaitsSince === null ? null : <span>{t('portal.awaits')}</span>}{' '}
                {standing.silentSince === null ? null : (
                  <span className={styles['below']}>
                    {t('portal.silent', { time: dates.atTime(standing.silentSince) })}
                  </span>
                )}
              </>
            ),
          },
          {
            key: 'help',
            title: t('portal.help'),
            cell: (standing) => (
              <Link href={`/issues/new?machine=${standing.machineId}&circuit=${standing.circuitId}`}>
                {t('portal.report')}
              </Link>
            ),
          },
        ]}
      />
      {more}
    </Panel>
  );
}

/** A customer's own machines: which are right, which are not. */
export function PortalPage() {
  const t = useTranslate();
  const { query, items } = useApiPages(routes.standings.list, { query: { status: 'all', limit: PAGE } });
  const { hasNextPage, isFetchingNextPage, isFetchNextPageError, fetchNextPage } = query;
  const more = useCallback(() => {
    if (!isFetchingNextPage) void fetchNextPage();
  }, [isFetchingNextPage, fetchNextPage]);
  const counts = useApi(routes.standings.counts, { query: {} }).data?.data;
  return (
    <>
      <PageHead
        title={toTitle(counts, t)}
        under={t('portal.under')}
        actions={
          <>
            <ExportButton tables={TABLES} />
            <UnitSwitch />
          </>
        }
      />
      {query.error !== null && items.length === 0 ? (
        <FailedNote error={query.error} onRetry={() => void query.refetch()} />
      ) : null}
      {query.isPending ? <LoadingNote text={t('state.loading')} /> : null}
      {query.isSuccess && items.length === 0 ? (
        <StateNote title={t('portal.empty')}>{t('portal.emptyText')}</StateNote>
      ) : null}
      {items.length === 0 ? null : (
        <OwnMachines
          rows={items}
          more={
            <>
              <NearEnd hasMore={hasNextPage && !isFetchNextPageError} onNear={more} />
              <ListEnd query={query} />
            </>
          }
        />
      )}
    </>
  );
}
