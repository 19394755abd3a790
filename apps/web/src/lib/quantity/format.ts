import { formatQuantity, toSi, toUnitSymbol, type QuantityKind } from '@repo/quantity';

export const PRESSURE_UNITS = ['bar', '[psi]', 'MPa'] as const;
export type PressureUnit = (typeof PRESSURE_UNITS)[number];

export function isPressureUnit(text: string | undefined): text is PressureUnit {
  return PRESSURE_UNITS.some((unit) => unit === text);
}

export const PASCAL_PER_UNIT: Readonly<Record<PressureUnit, number>> = {
  bar: toSi(1, 'bar', 'pressure'),
  '[psi]': toSi(1, '[psi]', 'pressure'),
  MPa: toSi(1, 'MPa', 'pressure'),
};

/** Places after the point when nothing is known of a pressure's accuracy: a gauge on such a circuit is read no finer. */
const USUAL_PLACES: Readonly<Record<PressureUnit, number>> = { bar: 0, '[psi]': 0, MPa: 1 };
const MOST_PLACES = 4;

export interface PressureText {
  number: string;
  /** what stands after ± */
  tolerance: string | null;
}

function toFixed(value: number, places: number): string {
  const text = value.toFixed(places);
  return text.startsWith('-') ? (Number(text) === 0 ? text.slice(1) : `−${text.slice(1)}`) : text;
}

/** As many places as the tolerance needs to show at all. */
export function getPlaces(unit: PressureUnit, halfWidthPa: number | null): number {
  let places = USUAL_PLACES[unit];
  if (halfWidthPa === null || halfWidthPa <= 0) return places;
  const half = halfWidthPa / PASCAL_PER_UNIT[unit];
  while (places < MOST_PLACES && half < 10 ** -places) places += 1;
  return places;
}

export function toPressureText(
  pressurePa: number,
  unit: PressureUnit,
  options: { halfWidthPa?: number | null; places?: number } = {},
): PressureText {
  const halfWidthPa = options.halfWidthPa ?? null;
  const places = options.places ?? getPlaces(unit, halfWidthPa);
  const size = PASCAL_PER_UNIT[unit];
  return {
    number: toFixed(pressurePa / size, places),
    tolerance: halfWidthPa === null || halfWidthPa <= 0 ? null : toFixed(halfWidthPa / size, places),
  };
}

/** Places at which two pressures that are compared look different, when they are. */
export function getPlacesApart(aPa: number, bPa: number, unit: PressureUnit): number {
  let places = USUAL_PLACES[unit];
  while (
    places < USUAL_PLACES[unit] + 2 &&
    aPa !== bPa &&
    toPressureText(aPa, unit, { places }).number === toPressureText(bPa, unit, { places }).number
  ) {
    places += 1;
  }
  return places;
}

export interface EnteredQuantity {
  value: number;
  unit: string;
  /** digits after the decimal point, as typed */
  digits?: number | undefined;
}

/** Just as it was typed. */
export function toTypedText(quantity: EnteredQuantity): { number: string; unit: string } {
  const number = quantity.digits === undefined ? String(quantity.value) : quantity.value.toFixed(quantity.digits);
  return { number: number.replace('-', '−'), unit: toUnitSymbol(quantity.unit) };
}

/** In another unit of its kind, with as many significant digits as were typed, three at least. */
export function toConvertedText(
  quantity: EnteredQuantity,
  kind: QuantityKind,
  unit: string,
): { number: string; unit: string } {
  if (unit === quantity.unit) return toTypedText(quantity);
  const typed = toTypedText(quantity)
    .number.replace(/[^0-9]/g, '')
    .replace(/^0+/, '');
  const digits = Math.min(15, Math.max(3, typed.length));
  const { text, unitSymbol } = formatQuantity(toSi(quantity.value, quantity.unit, kind), unit, { digits });
  return { number: text, unit: unitSymbol };
}

/** A plain number as a person reads it: no more digits than say anything. */
export function toPlainText(value: number, digits = 4): string {
  if (!Number.isFinite(value)) return '—';
  if (Number.isInteger(value) && Math.abs(value) < 1e6) return String(value).replace('-', '−');
  const text =
    Math.abs(value) >= 1e6 || Math.abs(value) < 1e-3
      ? value.toExponential(digits - 1)
      : String(Number(value.toPrecision(digits)));
  return text.replaceAll('-', '−');
}

export { toUnitSymbol };
