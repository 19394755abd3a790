'use client';

import { routes, type AffectedCircuit } from '@repo/contracts';
import { Link } from '@/ui/link';
import { useApiPages } from '@/lib/api/hooks';
import { useDates, useTranslate } from '@/lib/i18n/i18n';
import { FailedNote } from '@/lib/states';
import { SearchField } from '@/lib/search-field';
import { useUrlState } from '@/lib/url-state';
import { ListEnd } from '@/lib/list-end';
import { Panel } from '@/ui/panel';
import { Table } from '@/ui/table';

function useWhereabouts(): (row: AffectedCircuit) => string {
  const t = useTranslate();
  const dates = useDates();
  return (row) => {
    const since = dates.atDay(row.validFrom);
    if (row.validTo !== null) return t('lot.exchanged', { from: since, to: dates.atDay(row.validTo) });
    if (row.disposition === 'in-service') return t('lot.fitted', { from: since });
    return t('lot.gone', {
      from: since,
      how: t.find(`machine.disposition.${row.disposition}`) ?? row.disposition,
    });
  };
}

/** "Where is a lot?": fitted, exchanged, or gone with its machine, each said. */
export function LotSearch() {
  const t = useTranslate();
  const { get } = useUrlState();
  const lot = get('lot') ?? '';
  const whereabouts = useWhereabouts();
  const { query, items } = useApiPages(
    routes.installedComponents.byLot,
    { query: { lot, limit: 100 } },
    { isEnabled: lot !== '' },
  );
  const shown = lot === '' ? [] : items;
  return (
    <Panel title={t('lot.title')} id="lot">
      <SearchField name="lot" label={t('components.lot')} hint={t('lot.hint')} maxLength={80} />
      {query.error !== null && lot !== '' ? (
        <FailedNote error={query.error} onRetry={() => void query.refetch()} />
      ) : null}
      <div role="status">
        {lot !== '' && query.isSuccess ? (
          <p>{shown.length === 0 ? t('lot.none', { lot }) : t('lot.found', { count: shown.length, lot })}</p>
        ) : null}
      </div>
      {shown.length === 0 ? null : (
        <Table<AffectedCircuit>
          caption={t('lot.title')}
          rows={shown}
          rowKey={(row) => `${row.circuitId}${row.machineId}${row.designation}${row.validFrom}`}
          columns={[
            {
              key: 'machine',
              title: t('fleet.machine'),
              isName: true,
              cell: (row) => (
                <Link href={`/machines/${row.machineId}?circuit=${row.circuitId}`}>
                  {row.machineName}, {row.circuitName}
                </Link>
              ),
            },
            { key: 'customer', title: t('fleet.customer'), cell: (row) => `${row.customerName}, ${row.place}` },
            {
              key: 'item',
              title: t('components.designation'),
              cell: (row) => [row.designation, row.serial].filter((part) => part !== '').join(', '),
            },
            { key: 'where', title: t('lot.whereabouts'), cell: whereabouts },
          ]}
        />
      )}
      {lot === '' ? null : <ListEnd query={query} />}
    </Panel>
  );
}
