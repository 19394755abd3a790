'use client';

import { formatQuantity } from '@repo/quantity';
import { NumberWithUnit } from '@/lib/quantity/number';
import type { Check } from './rungs';

type Kind = NonNullable<Check['numbers']>['kind'];

/** The everyday unit in which numbers of a kind are read; pressures follow the reader's choice elsewhere. */
const UNITS: Readonly<Record<Exclude<Kind, 'fact' | 'pressure'>, string>> = {
  time: 's',
  power: 'W',
  voltage: 'V',
  current: 'A',
  force: 'N',
  flow: 'L/min',
  volume: 'mL',
};

/** A number of a check that is no pressure: three significant digits, in its everyday unit. */
export function toCheckNumber(kind: Kind, value: number): { number: string; unit: string } {
  if (kind === 'fact' || kind === 'pressure') throw new Error(`a ${kind} is not shown as a plain number`);
  const { text, unitSymbol } = formatQuantity(value, UNITS[kind], { digits: 3 });
  return { number: text, unit: unitSymbol };
}

export function CheckNumber({ kind, value }: { kind: Kind; value: number }) {
  const { number, unit } = toCheckNumber(kind, value);
  return <NumberWithUnit number={number} unit={unit} />;
}
