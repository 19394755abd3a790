'use client';

import { routes, type InstalledComponent } from '@repo/contracts';
import { Link } from '@/ui/link';
import { useState } from 'react';
import { useApiPages } from '@/lib/api/hooks';
import { FormDialog } from '@/lib/forms';
import { useDates, useTranslate } from '@/lib/i18n/i18n';
import { useMachineOverview } from '@/lib/machine-overview';
import { Entered } from '@/lib/quantity/number';
import { useMay } from '@/lib/session/session';
import { Button } from '@/ui/button';
import { FormActions } from '@/ui/field';
import { StateNote } from '@/ui/notice';
import { Panel } from '@/ui/panel';
import { Table, type Column } from '@/ui/table';
import styles from './components.module.css';
import { CopyComponents, FitComponent } from './fit-component';
import { FitComponentForm } from './late-forms';
import { TakeOutForm } from './take-out-form';

function Acts({ component, timeZone }: { component: InstalledComponent; timeZone: string }) {
  const t = useTranslate();
  const { designation } = component;
  return (
    <span className={styles['acts']}>
      <FormDialog
        look="plain"
        action={t('components.exchangeOf', { name: designation })}
        title={t('components.exchangeOf', { name: designation })}
      >
        {(close) => <FitComponentForm machineId={component.machineId} replaces={component} onDone={close} />}
      </FormDialog>
      <FormDialog
        look="plain"
        action={t('components.takeOutOf', { name: designation })}
        title={t('components.takeOutOf', { name: designation })}
      >
        {(close) => <TakeOutForm id={component.id} timeZone={timeZone} onDone={close} />}
      </FormDialog>
    </span>
  );
}

function useColumns(
  circuitNames: ReadonlyMap<string, string>,
  timeZone: string,
  hasEnd: boolean,
  canChange: boolean,
): Column<InstalledComponent>[] {
  const t = useTranslate();
  const dates = useDates();
  return [
    {
      key: 'designation',
      title: t('components.designation'),
      isName: true,
      cell: (row) => (
        <>
          {row.designation} · <Link href={`/component-types/${row.componentTypeId}`}>{row.componentTypeName}</Link>
        </>
      ),
    },
    { key: 'kind', title: t('components.kind'), cell: (row) => t.find(`componentKind.${row.kind}`) ?? row.kind },
    {
      key: 'place',
      title: t('components.place'),
      cell: (row) => (row.circuitId === null ? t('components.powerUnit') : (circuitNames.get(row.circuitId) ?? '–')),
    },
    {
      key: 'rating',
      title: t('components.rating'),
      cell: (row) => {
        const rating = row.effectiveFigures['ratedPressure'];
        return rating === undefined ? t('value.notKnown') : <Entered quantity={rating} />;
      },
    },
    {
      key: 'serial',
      title: t('components.serialOrLot'),
      cell: (row) =>
        [row.serial, row.lot, row.madeOn === null ? '' : t('components.made', { date: dates.onDay(row.madeOn) })]
          .filter((part) => part !== '')
          .join(', ') || '–',
    },
    { key: 'from', title: t('components.from'), cell: (row) => dates.atDay(row.validFrom, timeZone) },
    ...(hasEnd
      ? [
          {
            key: 'to',
            title: t('components.to'),
            cell: (row: InstalledComponent) =>
              row.validTo === null
                ? t('components.fitted')
                : `${dates.atDay(row.validTo, timeZone)}${row.removedReason === '' ? '' : `: ${row.removedReason}`}`,
          },
        ]
      : []),
    ...(canChange
      ? [
          {
            key: 'acts',
            title: t('table.actions'),
            isActions: true,
            cell: (row: InstalledComponent) =>
              row.validTo === null ? <Acts component={row} timeZone={timeZone} /> : '',
          },
        ]
      : []),
  ];
}

/** Components as installed on the day that the page shows, or their whole history. */
export function InstalledPanel({ machineId }: { machineId: string }) {
  const t = useTranslate();
  const dates = useDates();
  const { query, day } = useMachineOverview(machineId);
  const [hasHistory, setHistory] = useState(false);
  const overview = query.data?.data;
  const history = useApiPages(
    routes.installedComponents.list,
    { query: { machineId, limit: 200 } },
    { isEnabled: hasHistory },
  );
  const circuitNames = new Map(overview?.circuits.map(({ circuit }) => [circuit.id, circuit.name]));
  const may = useMay();
  const canChange = day === null && may(routes.installedComponents.create);
  const columns = useColumns(circuitNames, overview?.machine.timeZone ?? 'UTC', hasHistory, canChange);
  if (overview === undefined) return null;
  const rows = hasHistory ? history.items : overview.components;
  const note = hasHistory
    ? t('components.history')
    : day === null
      ? t('components.today')
      : t('components.asOn', { date: dates.onDay(day) });
  return (
    <Panel title={t('components.title')} note={note} id="components">
      {rows.length === 0 ? (
        <StateNote title={t('components.none')}>{t('components.noneText')}</StateNote>
      ) : (
        <Table caption={t('components.title')} rows={rows} rowKey={(row) => row.id} columns={columns} />
      )}
      <FormActions>
        {day === null ? <FitComponent machineId={machineId} /> : null}
        {day === null && overview.circuits.length > 0 ? <CopyComponents machineId={machineId} /> : null}
        <Button look="plain" aria-pressed={hasHistory} onClick={() => setHistory(!hasHistory)}>
          {hasHistory ? t('components.hideHistory') : t('components.showHistory')}
        </Button>
      </FormActions>
    </Panel>
  );
}
