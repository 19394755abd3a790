'use client';

import type { FittedComponent, SetupRecord } from '@repo/contracts';
import { useDates, useTranslate } from '@/lib/i18n/i18n';
import { Entered } from '@/lib/quantity/number';
import { Panel } from '@/ui/panel';
import { Table } from '@/ui/table';

/** What is fitted, and for which pressure it is made. */
export function FittedComponents({
  components,
  circuitNames,
}: {
  components: readonly FittedComponent[];
  circuitNames: ReadonlyMap<string, string>;
}) {
  const t = useTranslate();
  if (components.length === 0) return null;
  return (
    <Panel title={t('portal.components')}>
      <Table
        caption={t('portal.components')}
        rows={components}
        rowKey={(row) => row.id}
        columns={[
          { key: 'designation', title: t('components.designation'), isName: true, cell: (row) => row.designation },
          { key: 'type', title: t('components.type'), cell: (row) => row.componentTypeName },
          {
            key: 'place',
            title: t('components.place'),
            cell: (row) =>
              row.circuitId === null ? t('components.powerUnit') : (circuitNames.get(row.circuitId) ?? '–'),
          },
          {
            key: 'rating',
            title: t('components.rating'),
            cell: (row) =>
              row.ratedPressure === null ? t('value.notKnown') : <Entered quantity={row.ratedPressure} />,
          },
          {
            key: 'serial',
            title: t('components.serialOrLot'),
            cell: (row) => [row.serial, row.lot].filter((part) => part !== '').join(', ') || '–',
          },
        ]}
      />
    </Panel>
  );
}

type Gauge = Pick<
  SetupRecord,
  'gaugeSpan' | 'gaugeClass' | 'gaugeIdentity' | 'gaugeCalibratedOn' | 'gaugeCalibrationDueOn'
>;
interface Instrument extends Gauge {
  key: string;
  circuitNames: string[];
}

/** Each instrument once, with the circuits that it was read on. */
function listInstruments(readings: readonly { circuitName: string; asLeft: Gauge | null }[]): Instrument[] {
  const instruments = new Map<string, Instrument>();
  for (const { circuitName, asLeft } of readings) {
    if (asLeft === null) continue;
    const { gaugeSpan, gaugeClass, gaugeIdentity, gaugeCalibratedOn, gaugeCalibrationDueOn } = asLeft;
    const key = [
      gaugeIdentity,
      gaugeSpan?.value,
      gaugeSpan?.unit,
      gaugeClass,
      gaugeCalibratedOn,
      gaugeCalibrationDueOn,
    ].join('|');
    // Nobody has said anything of it.
    if (/^\|+$/.test(key)) continue;
    const known = instruments.get(key);
    if (known === undefined) {
      instruments.set(key, {
        key,
        gaugeSpan,
        gaugeClass,
        gaugeIdentity,
        gaugeCalibratedOn,
        gaugeCalibrationDueOn,
        circuitNames: [circuitName],
      });
    } else known.circuitNames.push(circuitName);
  }
  return [...instruments.values()];
}

/** With what the settings were read, as far as somebody said. */
export function Instruments({ readings }: { readings: readonly { circuitName: string; asLeft: Gauge | null }[] }) {
  const t = useTranslate();
  const dates = useDates();
  const instruments = listInstruments(readings);
  if (instruments.length === 0) return null;
  const unsaid = t('settings.notStated');
  return (
    <Panel title={t('portal.instruments')}>
      <Table
        caption={t('portal.instruments')}
        rows={instruments}
        rowKey={(row) => row.key}
        columns={[
          {
            key: 'which',
            title: t('settings.gaugeIdentity'),
            isName: true,
            cell: (row) => (row.gaugeIdentity === '' ? unsaid : row.gaugeIdentity),
          },
          {
            key: 'range',
            title: t('portal.range'),
            cell: (row) =>
              row.gaugeSpan === null
                ? unsaid
                : t.rich('portal.rangeTo', { most: <Entered quantity={row.gaugeSpan} /> }),
          },
          {
            key: 'class',
            title: t('portal.gaugeClass'),
            cell: (row) => (row.gaugeClass === '' ? unsaid : t('settings.gaugeClassOf', { class: row.gaugeClass })),
          },
          {
            key: 'calibrated',
            title: t('portal.calibrated'),
            cell: (row) => (row.gaugeCalibratedOn === null ? unsaid : dates.onDay(row.gaugeCalibratedOn)),
          },
          {
            key: 'due',
            title: t('portal.calibrationDue'),
            cell: (row) => (row.gaugeCalibrationDueOn === null ? unsaid : dates.onDay(row.gaugeCalibrationDueOn)),
          },
          { key: 'for', title: t('portal.readOn'), cell: (row) => t.list(row.circuitNames) },
        ]}
      />
    </Panel>
  );
}
