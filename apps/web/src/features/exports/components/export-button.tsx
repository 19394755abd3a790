'use client';

import { EXPORT_TABLES, maySeeTable, routes, type ExportTable } from '@repo/contracts';
import { toUnitSymbol } from '@repo/quantity';
import { useState } from 'react';
import { useTranslate } from '@/lib/i18n/i18n';
import { isPressureUnit, PRESSURE_UNITS } from '@/lib/quantity/format';
import { usePressureUnit } from '@/lib/quantity/pressure-unit';
import { useMay, useRole } from '@/lib/session/session';
import { FailedNote } from '@/lib/states';
import { Button } from '@/ui/button';
import { Dialog } from '@/ui/dialog';
import { SelectField } from '@/ui/field';
import { useExport, type ExportFormat, type ExportState } from '../use-export';
import styles from './exports.module.css';

function Progress({ now, onRetry }: { now: ExportState; onRetry: () => void }) {
  const t = useTranslate();
  switch (now.state) {
    case 'idle':
      return null;
    case 'preparing':
      return <p>{t('exports.preparing')}</p>;
    case 'background': {
      const { done, total } = now.job ?? {};
      return (
        <p>
          {done === null || done === undefined || total === null || total === undefined
            ? t('exports.largeBegins')
            : t('exports.large', { done, total })}
        </p>
      );
    }
    case 'ready':
      return (
        <p className={styles['ready']}>
          {t('exports.ready', { rows: now.rows })}{' '}
          <a href={now.url} download>
            {t('exports.fetch')}
          </a>
        </p>
      );
    case 'saved':
      return <p>{t('exports.saved', { fileName: now.fileName })}</p>;
    case 'too-large':
      return <p>{t('exports.tooLargeHere')}</p>;
    case 'failed':
      return <FailedNote error={now.error} onRetry={onRetry} />;
  }
}

function ExportForm({ tables }: { tables: readonly [ExportTable, ...ExportTable[]] }) {
  const t = useTranslate();
  const may = useMay();
  const person = usePressureUnit();
  const [table, setTable] = useState<ExportTable>(tables[0]);
  const [format, setFormat] = useState<ExportFormat>('xlsx');
  const [unit, setUnit] = useState(person.unit);
  const { now, start, reset } = useExport(may(routes.exports.start));
  const isBusy = now.state === 'preparing' || now.state === 'background';
  const change = <T,>(set: (value: T) => void, value: T): void => {
    set(value);
    reset();
  };
  const run = (): void => void start({ table, format, pressureUnit: unit });
  return (
    <div className={styles['form']}>
      <p>{t('exports.under')}</p>
      <SelectField
        label={t('exports.table')}
        value={table}
        choices={tables.map((one) => ({ value: one, label: t(`exportTable.${one}`) }))}
        onChange={(value) => {
          const chosen = tables.find((one) => one === value);
          if (chosen !== undefined) change(setTable, chosen);
        }}
      />
      <SelectField
        label={t('exports.format')}
        value={format}
        choices={(['xlsx', 'csv'] as const).map((one) => ({ value: one, label: t(`exports.format.${one}`) }))}
        onChange={(value) => change(setFormat, value === 'csv' ? 'csv' : 'xlsx')}
      />
      <SelectField
        label={t('exports.unit')}
        hint={t('exports.units')}
        value={unit}
        choices={PRESSURE_UNITS.map((one) => ({ value: one, label: toUnitSymbol(one) }))}
        onChange={(value) => {
          if (isPressureUnit(value)) change(setUnit, value);
        }}
      />
      {'entity' in EXPORT_TABLES[table] && may(routes.imports.create) ? <p>{t('exports.readsBack')}</p> : null}
      <div>
        <Button look="strong" disabled={isBusy} onClick={run}>
          {t('exports.download')}
        </Button>
      </div>
      <div role="status">
        <Progress now={now} onRetry={run} />
      </div>
    </div>
  );
}

/** "Export": takes one of the tables that this page is about away, as a workbook or as text. */
export function ExportButton({ tables }: { tables: readonly ExportTable[] }) {
  const t = useTranslate();
  const role = useRole();
  const [isOpen, setOpen] = useState(false);
  const [first, ...rest] = tables.filter((table) => maySeeTable(table, role));
  if (first === undefined) return null;
  return (
    <>
      <Button onClick={() => setOpen(true)}>{t('exports.action')}</Button>
      <Dialog title={t('exports.title')} isOpen={isOpen} onClose={() => setOpen(false)} closeText={t('action.close')}>
        <ExportForm tables={[first, ...rest]} />
      </Dialog>
    </>
  );
}
