import type { FittedComponent, SetupRecord } from '@repo/contracts';
import { SearchParamsContext } from 'next/dist/shared/lib/hooks-client-context.shared-runtime';
import type { ReactNode } from 'react';
import { renderToStaticMarkup } from 'react-dom/server';
import { LocaleProvider } from '@/lib/i18n/i18n';
import { PressureUnitProvider } from '@/lib/quantity/pressure-unit';
import { speakWhole } from '@/messages';
import { en } from '@/messages/en';
import { FittedComponents, Instruments } from './setup-lists';

speakWhole(en);

/** Cells of each row, as read. */
const rowsOf = (node: ReactNode): string[][] =>
  renderToStaticMarkup(
    <SearchParamsContext value={new URLSearchParams()}>
      <LocaleProvider initial="en">
        <PressureUnitProvider initial="bar">{node}</PressureUnitProvider>
      </LocaleProvider>
    </SearchParamsContext>,
  )
    .split('<tr')
    .slice(1)
    .map((row) =>
      row
        .split(/<\/t[dh]>/)
        .slice(0, -1)
        .map((cell) => cell.replace(/^[^<]*/, '').replaceAll(/<[^>]*>/g, '')),
    );

const hose: FittedComponent = {
  ...{
    id: '1',
    circuitId: 'a',
    kind: 'hose',
    designation: 'H1.1',
    componentTypeName: 'Hose 6',
    serial: 'S-7',
    lot: '',
  },
  ratedPressure: { value: 275, unit: 'bar' },
};
const pump: FittedComponent = {
  ...hose,
  id: '2',
  circuitId: null,
  kind: 'pump',
  designation: 'P1',
  ratedPressure: null,
};

it('components stand with their place, rating and serial', () => {
  const [, first, second] = rowsOf(
    <FittedComponents components={[hose, pump]} circuitNames={new Map([['a', 'Pallet A']])} />,
  );
  expect(first).toEqual(['H1.1', 'Hose 6', 'Pallet A', '275bar', 'S-7']);
  expect(second).toEqual(['P1', 'Hose 6', 'power unit', 'not known', 'S-7']);
});

describe('instruments', () => {
  const asLeft = (gauge: Partial<SetupRecord>) => ({
    gaugeSpan: { value: 250, unit: 'bar' },
    ...{ gaugeClass: '1.6', gaugeIdentity: 'G-12', gaugeCalibratedOn: '2026-03-02' },
    gaugeCalibrationDueOn: '2027-03-02',
    ...gauge,
  });

  it('stand once each, with range, class, calibration and what they were read for', () => {
    const [, ...rows] = rowsOf(
      <Instruments
        readings={[
          { circuitName: 'Pallet A', asLeft: asLeft({}) },
          { circuitName: 'Pallet B', asLeft: asLeft({}) },
          {
            circuitName: 'Pallet C',
            asLeft: asLeft({ gaugeIdentity: '', gaugeClass: '', gaugeCalibratedOn: null, gaugeCalibrationDueOn: null }),
          },
        ]}
      />,
    );
    expect(rows).toEqual([
      ['G-12', '0 to 250bar', 'class 1.6', '2 Mar 2026', '2 Mar 2027', 'Pallet A, Pallet B'],
      ['not stated', '0 to 250bar', 'not stated', 'not stated', 'not stated', 'Pallet C'],
    ]);
  });

  it('are left out where nobody said with what was read', () => {
    const unsaid = asLeft({
      gaugeSpan: null,
      gaugeClass: '',
      gaugeIdentity: '',
      gaugeCalibratedOn: null,
      gaugeCalibrationDueOn: null,
    });
    expect(
      rowsOf(
        <Instruments
          readings={[
            { circuitName: 'A', asLeft: unsaid },
            { circuitName: 'B', asLeft: null },
          ]}
        />,
      ),
    ).toEqual([]);
  });
});
