import { getKindInfo, toSi, type QuantityKind } from '@repo/quantity';
import type { MessageKey, MessageParameters } from '@/messages';
import { toConvertedText, toPlainText, toTypedText, toUnitSymbol, type EnteredQuantity } from './format';

export type Say = (key: MessageKey, parameters?: MessageParameters) => string;

/** From so many times on two figures that should be alike are told to be ten times apart. */
export const TENFOLD = 10;
/** Within so many times another unit would bring a figure near to what it is compared with. */
const NEAR = 1.2;
/** Further apart than this, another unit is looked for: figures of a data sheet differ more than two readings do. */
const FAR = 2.5;

export const ratioOf = (a: number, b: number): number => (a > b ? a / b : b / a);

/** The unit in which the same number would come near to what it is compared with. */
export const findUnitNear = (
  { value, unit }: EnteredQuantity,
  kind: QuantityKind,
  isNear: (si: number) => boolean,
): string | undefined =>
  getKindInfo(kind)
    .displayUnits.map((display) => display.unit)
    .find((other) => other !== unit && isNear(toSi(value, other, kind)));

/** Just as it was typed, with its unit. */
export function showTyped(quantity: EnteredQuantity): string {
  const { number, unit } = toTypedText(quantity);
  return `${number} ${unit}`.trim();
}

/** What it is compared with, in the unit in which it is read. */
export function showIn(quantity: EnteredQuantity, kind: QuantityKind, shownIn: string): string {
  const { number, unit } = toConvertedText(quantity, kind, shownIn);
  return `${number} ${unit}`.trim();
}

/** Between what a figure usually lies: outside, the unit is more likely wrong than the thing strange. */
export interface Usual {
  low: number;
  high: number;
  unit: string;
}

export interface DoubtedFigure {
  label: string;
  kind: QuantityKind;
  value: EnteredQuantity;
  /** what was saved before */
  former: EnteredQuantity | null;
  /** what it should not be above */
  rating: { name: string; quantity: EnteredQuantity } | null;
  usual: Usual | null;
}

/**
 * What is worth asking about one figure before it is saved: nothing here refuses it. The gravest question alone.
 * @param pageUnit in which the reader sees pressures
 */
export function doubtOfFigure(
  { label, kind, value, former, rating, usual }: DoubtedFigure,
  pageUnit: string,
  t: Say,
): string | null {
  const si = toSi(value.value, value.unit, kind);
  // Nothing is a figure by itself, and what was saved before was asked about then.
  if (si === 0) return null;
  const words = { field: label, value: showTyped(value) };
  const unitOf = (quantity: { unit: string }): string => (kind === 'pressure' ? pageUnit : quantity.unit);
  const toSame = (unit: string): string => showTyped({ ...value, unit });
  if (rating !== null && si > toSi(rating.quantity.value, rating.quantity.unit, kind) * (1 + 1e-3)) {
    const reference = showIn(rating.quantity, kind, unitOf(rating.quantity));
    return t('doubt.aboveRating', { ...words, name: rating.name, reference });
  }
  if (former !== null) {
    const before = toSi(former.value, former.unit, kind);
    const ratio = before > 0 && si > 0 ? ratioOf(si, before) : 1;
    const compared = { ...words, other: t('doubt.before'), reference: showIn(former, kind, unitOf(former)) };
    if (ratio > FAR) {
      const unit = findUnitNear(value, kind, (other) => ratioOf(other, before) <= NEAR);
      if (unit !== undefined) return t('doubt.otherUnit', { ...compared, same: toSame(unit) });
      if (ratio >= TENFOLD) return t('doubt.tenfold', compared);
    }
    if (ratio < 1 + 1e-9) return null;
  }
  if (usual === null) return null;
  const [low, high] = [toSi(usual.low, usual.unit, kind), toSi(usual.high, usual.unit, kind)];
  const isUsual = (other: number): boolean => other >= low && other <= high;
  if (isUsual(si)) return null;
  const bound = (limit: number): string => {
    const unit = unitOf(usual);
    const inUnit = unit === usual.unit ? limit : toSi(limit, usual.unit, kind) / toSi(1, unit, kind);
    return `${toPlainText(inUnit, 3)} ${toUnitSymbol(unit)}`.trim();
  };
  const between = { ...words, low: bound(usual.low), high: bound(usual.high) };
  const unit = findUnitNear(value, kind, isUsual);
  return unit === undefined
    ? t('doubt.unusual', between)
    : t('doubt.unusualInUnit', { ...between, same: toSame(unit) });
}
