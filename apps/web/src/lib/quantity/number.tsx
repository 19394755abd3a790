'use client';

import type { QuantityKind } from '@repo/quantity';
import { toConvertedText, toPressureText, toTypedText, toUnitSymbol, type EnteredQuantity } from './format';
import { usePressureUnit } from './pressure-unit';
import styles from './number.module.css';

/** A number as on an instrument, its unit smaller after it. */
export function NumberWithUnit({ number, unit }: { number: string; unit?: string }) {
  return (
    <span className={styles['whole']}>
      <span className={styles['number']}>{number}</span>
      {unit === undefined || unit === '' ? null : <span className={styles['unit']}>{unit}</span>}
    </span>
  );
}

/** A pressure in the reader's unit. */
export function Pressure({
  pressurePa,
  halfWidthPa = null,
  places,
  hasUnit = true,
}: {
  pressurePa: number;
  halfWidthPa?: number | null;
  places?: number;
  hasUnit?: boolean;
}) {
  const { unit } = usePressureUnit();
  const { number, tolerance } = toPressureText(pressurePa, unit, {
    halfWidthPa,
    ...(places === undefined ? {} : { places }),
  });
  const text = tolerance === null ? number : `${number} ± ${tolerance}`;
  return <NumberWithUnit number={text} {...(hasUnit ? { unit: toUnitSymbol(unit) } : {})} />;
}

/** A quantity that somebody typed: pressures in the reader's unit, all else as typed. */
export function Entered({
  quantity,
  tolerance = null,
  kind = 'pressure',
}: {
  quantity: EnteredQuantity;
  tolerance?: EnteredQuantity | null;
  kind?: QuantityKind;
}) {
  const { unit } = usePressureUnit();
  const show = (entered: EnteredQuantity) =>
    kind === 'pressure' ? toConvertedText(entered, kind, unit) : toTypedText(entered);
  const shown = show(quantity);
  const number = tolerance === null ? shown.number : `${shown.number} ± ${show(tolerance).number}`;
  return <NumberWithUnit number={number} unit={shown.unit} />;
}
