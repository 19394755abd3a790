'use client';

import { routes, type StandingCounts } from '@repo/contracts';
import { Link } from '@/ui/link';
import { useCallback, useEffect, type ComponentProps } from 'react';
import { ExportButton } from '@/features/exports';
import { useApiPages } from '@/lib/api/hooks';
import { useTranslate, type Translate } from '@/lib/i18n/i18n';
import { UnitSwitch } from '@/lib/quantity/unit-switch';
import { SearchField } from '@/lib/search-field';
import { FailedNote } from '@/lib/states';
import { Status, STATUSES } from '@/lib/status/status';
import { useUrlState } from '@/lib/url-state';
import { Button } from '@/ui/button';
import { SelectField } from '@/ui/field';
import { LoadingNote, Notice, StateNote } from '@/ui/notice';
import { PageHead } from '@/ui/panel';
import { useStandingCounts } from '../use-standing-counts';
import { FleetKey } from './fleet-key';
import { FleetTable } from './fleet-table';
import { FirstSteps } from './first-steps';
import styles from './fleet.module.css';

const PAGE = 40;
const FILTERS = ['all', 'need', 'fails', 'marginal', 'unproven', 'holds'] as const;
type Filter = (typeof FILTERS)[number];

const toFilter = (text: string | null): Filter => FILTERS.find((filter) => filter === text) ?? 'need';

function toTitle(counts: StandingCounts | undefined, t: Translate): string {
  if (counts === undefined) return t('fleet.title');
  const need = toTotal(counts, 'need');
  if (counts.total === 0) return t('fleet.title.empty');
  // As it was computed is not as it is: nobody is told that all is right while some wait.
  if (need === 0 && counts.awaiting > 0)
    return t('fleet.title.awaiting', { count: counts.awaiting, total: counts.total });
  if (need === 0) return t('fleet.title.none', { count: counts.total });
  return t('fleet.title.need', { count: need, total: counts.total });
}

function toTotal(counts: StandingCounts, filter: Filter): number {
  if (filter === 'all') return counts.total;
  return filter === 'need' ? counts.fails + counts.marginal + counts.unproven : counts[filter];
}

function Counts({ counts, current }: { counts: StandingCounts; current: Filter }) {
  const t = useTranslate();
  const { set } = useUrlState();
  return (
    <nav className={styles['counts']} aria-label={t('fleet.byStatus')}>
      {STATUSES.map((status) => {
        if (status !== 'fails' && status !== 'marginal' && status !== 'unproven' && status !== 'holds') return null;
        return (
          <Link
            key={status}
            href={`?status=${status}`}
            aria-current={current === status ? 'true' : undefined}
            onClick={(event) => {
              event.preventDefault();
              set({ status: current === status ? null : status });
            }}
          >
            <Status status={counts[status] === 0 ? 'not-applicable' : status}>
              <span className={styles['count']}>{counts[status]}</span> {t(`status.${status}`)}
            </Status>
            <p>{t(`fleet.count.${status}`)}</p>
          </Link>
        );
      })}
    </nav>
  );
}

function Find({ filter, customerId }: { filter: Filter; customerId: string }) {
  const t = useTranslate();
  const { set } = useUrlState();
  const { items: customers } = useApiPages(routes.customers.list, { query: { limit: 200 } });
  return (
    <search className={styles['find']}>
      <SearchField name="search" label={t('fleet.search')} hint={t('fleet.searchHint')} />
      <SelectField
        label={t('fleet.status')}
        value={filter}
        choices={FILTERS.map((value) => ({ value, label: t(`fleet.filter.${value}`) }))}
        onChange={(value) => set({ status: value === 'need' ? null : value })}
      />
      <SelectField
        label={t('fleet.customer')}
        value={customerId}
        choices={[
          { value: '', label: t('fleet.everyCustomer') },
          ...customers.map(({ id, name }) => ({ value: id, label: name })),
        ]}
        onChange={(value) => set({ customer: value })}
      />
    </search>
  );
}

/** All that bears on how circuits stand. */
const TABLES: ComponentProps<typeof ExportButton>['tables'] = [
  'circuit-standings',
  'circuits',
  'target-settings',
  'setup-records',
  'sizing-records',
  'alarm-counts',
  'm-codes',
  'signals',
  'wires',
];

/** "What needs me?": every circuit with its pressure ladder, the worst first. */
export function FleetPage() {
  const t = useTranslate();
  const { get, set } = useUrlState();
  const filter = toFilter(get('status'));
  const customerId = get('customer') ?? '';
  const search = get('search') ?? '';
  const ofCustomer = customerId === '' ? {} : { customerId };
  const counts = useStandingCounts(customerId);
  const { query, items } = useApiPages(routes.standings.list, {
    // Who looks for a machine by name finds it however it stands.
    query: { status: search === '' ? filter : 'all', limit: PAGE, ...ofCustomer, ...(search === '' ? {} : { search }) },
  });
  const { hasNextPage, isFetchingNextPage, fetchNextPage } = query;
  const more = useCallback(() => {
    if (!isFetchingNextPage) void fetchNextPage();
  }, [isFetchingNextPage, fetchNextPage]);

  const title = toTitle(counts, t);
  useEffect(() => {
    document.title = `${title} · ${t('app.name')}`;
  }, [title, t]);

  if (counts?.total === 0 && search === '' && customerId === '') {
    return (
      <>
        <PageHead title={title} under={t('fleet.emptyText')} />
        <FirstSteps />
      </>
    );
  }
  const isFiltered = search !== '' || customerId !== '' || filter !== 'need';
  const total = counts === undefined || search !== '' ? null : toTotal(counts, filter);
  return (
    <>
      <PageHead
        title={title}
        under={t('fleet.under')}
        actions={
          <>
            <ExportButton tables={TABLES} />
            <UnitSwitch />
          </>
        }
      />
      {counts === undefined ? null : <Counts counts={counts} current={filter} />}
      {counts === undefined || counts.awaiting === 0 ? null : (
        <div className={styles['awaiting']}>
          <Notice role="status">{t('fleet.awaiting', { count: counts.awaiting })}</Notice>
        </div>
      )}
      <Find filter={filter} customerId={customerId} />
      <FleetKey />
      {query.error !== null && items.length === 0 ? (
        <FailedNote error={query.error} onRetry={() => void query.refetch()} />
      ) : null}
      {query.isPending ? <LoadingNote text={t('state.loading')} /> : null}
      {query.isSuccess && items.length === 0 ? (
        <StateNote
          title={isFiltered ? t('fleet.noMatch') : t('fleet.nothingNeeds')}
          actions={
            <Button onClick={() => set({ status: 'all', search: null, customer: null })}>{t('fleet.showAll')}</Button>
          }
        >
          {isFiltered ? t('fleet.noMatchText') : t('fleet.nothingNeedsText')}
        </StateNote>
      ) : null}
      {search === '' || filter === 'all' || items.length === 0 ? null : (
        <p className={styles['more']}>{t('fleet.searchesAll')}</p>
      )}
      {items.length === 0 ? null : <FleetTable standings={items} total={total} hasMore={hasNextPage} onMore={more} />}
      <p className={styles['more']} role="status">
        {isFetchingNextPage
          ? t('fleet.loadingMore')
          : items.length > 0
            ? t('fleet.shown', { count: items.length })
            : ''}
      </p>
    </>
  );
}
