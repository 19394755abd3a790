'use client';

import { routes } from '@repo/contracts';
import { Link } from '@/ui/link';
import { useRef } from 'react';
import { useApiChange, useApiPages } from '@/lib/api/hooks';
import { useDates, useTranslate } from '@/lib/i18n/i18n';
import { createId } from '@/lib/ids';
import { useMachineOverview } from '@/lib/machine-overview';
import { useRole } from '@/lib/session/session';
import { useProblemText } from '@/lib/states';
import { Status } from '@/lib/status/status';
import { Button } from '@/ui/button';
import { Notice, StateNote } from '@/ui/notice';
import { Panel } from '@/ui/panel';
import { Table } from '@/ui/table';

/** Sizing records of the circuit that is looked at: what was proven, and whether it still is. */
export function SizingPanel({ machineId }: { machineId: string }) {
  const t = useTranslate();
  const dates = useDates();
  const role = useRole();
  const toText = useProblemText();
  const { circuit, basis, day } = useMachineOverview(machineId);
  const circuitId = circuit?.circuit.id ?? '';
  const { query, items } = useApiPages(
    routes.sizingRecords.list,
    { query: { circuitId, limit: 50 } },
    { isEnabled: circuit !== null },
  );
  const id = useRef(createId());
  const make = useApiChange(routes.sizingRecords.create, {
    onDone: () => {
      id.current = createId();
    },
  });
  if (circuit === null) return null;
  return (
    <Panel title={t('sizing.title', { name: circuit.circuit.name })} id="sizing">
      {query.isSuccess && items.length === 0 ? (
        <StateNote title={t('sizing.none')}>{t('sizing.noneText')}</StateNote>
      ) : null}
      {items.length === 0 ? null : (
        <Table
          caption={t('sizing.title', { name: circuit.circuit.name })}
          rows={items}
          rowKey={(row) => row.id}
          columns={[
            {
              key: 'number',
              title: t('sizing.record'),
              isName: true,
              cell: (row) => (
                <Link href={`/sizing-records/${row.id}`}>{t('sizing.recordOf', { number: row.number })}</Link>
              ),
            },
            {
              key: 'made',
              title: t('sizing.made'),
              cell: (row) => `${dates.atDay(row.createdAt)}, ${row.createdByName}`,
            },
            { key: 'basis', title: t('sizing.basis'), cell: (row) => t(`sizing.basis.${row.basis}`) },
            { key: 'status', title: t('fleet.standing'), cell: (row) => <Status status={row.status} /> },
            { key: 'currency', title: t('sizing.currency'), cell: (row) => t(`sizing.currency.${row.currency}`) },
          ]}
        />
      )}
      {make.error === null ? null : <Notice role="alert">{toText(make.error)}</Notice>}
      <div role="status">
        {make.data === undefined ? null : (
          <p>
            {t('sizing.madeNow', { number: make.data.data.number })}{' '}
            <Link href={`/sizing-records/${make.data.data.id}`}>{t('sizing.open')}</Link>
          </p>
        )}
      </div>
      {role === 'engineer' && day === null ? (
        <Button disabled={make.isPending} onClick={() => make.mutate({ body: { id: id.current, circuitId, basis } })}>
          {t(`sizing.make.${basis}`)}
        </Button>
      ) : null}
    </Panel>
  );
}
