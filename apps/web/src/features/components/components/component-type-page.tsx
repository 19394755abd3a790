'use client';

import { routes, type AffectedCircuit, type ComponentType } from '@repo/contracts';
import { Link } from '@/ui/link';
import { useState } from 'react';
import { useApi, useApiPages } from '@/lib/api/hooks';
import { useDates, useTranslate } from '@/lib/i18n/i18n';
import { Entered } from '@/lib/quantity/number';
import { UnitSwitch } from '@/lib/quantity/unit-switch';
import { useRole } from '@/lib/session/session';
import { Loaded } from '@/lib/states';
import { isStatusShape, Status } from '@/lib/status/status';
import { ListEnd } from '@/lib/list-end';
import { Button } from '@/ui/button';
import { Dialog } from '@/ui/dialog';
import { PageHead, Panel } from '@/ui/panel';
import { MainAndAside, StackedPanels } from '@/ui/stack';
import { Table } from '@/ui/table';
import { ComponentTypeForm } from './component-type-form';
import { listSaid, nameFigure, toFigureKind } from '../figures';

function Affected({ typeId }: { typeId: string }) {
  const t = useTranslate();
  const dates = useDates();
  const { query, items } = useApiPages(routes.componentTypes.affected, {
    params: { id: typeId },
    query: { limit: 100 },
  });
  const now = items.filter((row) => row.validTo === null);
  const machines = new Set(now.map((row) => row.machineId)).size;
  return (
    <Panel
      title={t('componentTypes.affected')}
      note={query.isSuccess && !query.hasNextPage ? t('componentTypes.affectedCount', { count: machines }) : undefined}
    >
      {query.isSuccess && items.length === 0 ? <p>{t('componentTypes.affectsNone')}</p> : null}
      {items.length === 0 ? null : (
        <Table<AffectedCircuit>
          caption={t('componentTypes.affected')}
          rows={items}
          rowKey={(row) => `${row.circuitId}${row.designation}${row.validFrom}`}
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
              key: 'designation',
              title: t('components.designation'),
              cell: (row) => [row.designation, row.serial, row.lot].filter((part) => part !== '').join(', '),
            },
            {
              key: 'when',
              title: t('components.from'),
              cell: (row) =>
                row.validTo === null
                  ? t('componentTypes.since', { date: dates.atDay(row.validFrom) })
                  : `${dates.atDay(row.validFrom)} – ${dates.atDay(row.validTo)}`,
            },
            {
              key: 'status',
              title: t('fleet.standing'),
              cell: (row) =>
                row.disposition !== 'in-service' ? (
                  (t.find(`machine.disposition.${row.disposition}`) ?? row.disposition)
                ) : isStatusShape(row.status) ? (
                  <Status status={row.status} />
                ) : (
                  '–'
                ),
            },
          ]}
        />
      )}
      <ListEnd query={query} />
    </Panel>
  );
}

function Figures({ type }: { type: ComponentType }) {
  const t = useTranslate();
  const rows = listSaid(type.kind, type.figures);
  return (
    <Panel title={t('componentTypes.figures')} note={t('componentTypes.revisionOf', { revision: type.revision })}>
      {rows.length === 0 ? (
        <p>{t('componentTypes.noFigures')}</p>
      ) : (
        <Table
          caption={t('componentTypes.figures')}
          rows={rows}
          rowKey={([name]) => name}
          columns={[
            { key: 'name', title: t('componentTypes.figure'), isName: true, cell: ([name]) => nameFigure(name, t) },
            {
              key: 'value',
              title: t('settings.value'),
              cell: ([name, figure]) => <Entered quantity={figure} kind={toFigureKind(type.kind, name)} />,
            },
            { key: 'source', title: t('componentTypes.source'), cell: ([, figure]) => figure.source },
          ]}
        />
      )}
    </Panel>
  );
}

function Revisions({ type }: { type: ComponentType }) {
  const t = useTranslate();
  const dates = useDates();
  const query = useApi(routes.componentTypes.revisions, { params: { id: type.id } });
  return (
    <Panel title={t('componentTypes.before')}>
      <Loaded query={query}>
        {({ data }) => (
          <Table
            caption={t('componentTypes.before')}
            rows={data.items}
            rowKey={(row) => String(row.revision)}
            columns={[
              { key: 'revision', title: t('componentTypes.revision'), isName: true, cell: (row) => row.revision },
              { key: 'at', title: t('componentTypes.recorded'), cell: (row) => dates.atDay(row.recordedAt) },
              {
                key: 'figures',
                title: t('componentTypes.figures'),
                cell: (row) =>
                  listSaid(type.kind, row.figures).map(([name, figure]) => (
                    <span key={name}>
                      {nameFigure(name, t)} <Entered quantity={figure} kind={toFigureKind(type.kind, name)} />
                      <br />
                    </span>
                  )),
              },
              { key: 'reason', title: t('settings.reason'), cell: (row) => row.reason || '–' },
            ]}
          />
        )}
      </Loaded>
    </Panel>
  );
}

/** One component type: its figures with their sources, and which machines a change would touch. */
export function ComponentTypePage({ typeId }: { typeId: string }) {
  const t = useTranslate();
  const role = useRole();
  const query = useApi(routes.componentTypes.get, { params: { id: typeId } });
  const [isOpen, setOpen] = useState(false);
  return (
    <Loaded isPage query={query}>
      {({ data: type, etag }) => (
        <>
          <PageHead
            crumbsLabel={t('nav.crumbs')}
            crumbs={[{ name: t('nav.componentTypes'), href: '/component-types' }]}
            title={type.name}
            under={[t.find(`componentKind.${type.kind}`) ?? type.kind, type.partNumber]
              .filter((part) => part !== '')
              .join(' · ')}
            actions={
              <>
                <UnitSwitch />
                {role === 'engineer' || role === 'administrator' ? (
                  <Button look="strong" onClick={() => setOpen(true)}>
                    {t('componentTypes.change')}
                  </Button>
                ) : null}
              </>
            }
          />
          <MainAndAside
            // On a small screen the machines make a long list, below which nobody would look for the figures.
            main={
              <StackedPanels>
                <Figures type={type} />
                <Affected typeId={type.id} />
              </StackedPanels>
            }
            aside={
              <StackedPanels>
                <Revisions type={type} />
                {type.note === '' ? null : <Panel title={t('customers.note')}>{type.note}</Panel>}
              </StackedPanels>
            }
          />
          <Dialog
            isWide
            isOpen={isOpen}
            onClose={() => setOpen(false)}
            closeText={t('action.close')}
            title={t('componentTypes.changeOf', { name: type.name })}
          >
            <ComponentTypeForm type={type} etag={etag} onDone={() => setOpen(false)} />
          </Dialog>
        </>
      )}
    </Loaded>
  );
}
