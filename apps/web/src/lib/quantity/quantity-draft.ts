import { fromSi, parseQuantity, toSi, type QuantityKind } from '@repo/quantity';
import { toTypedText, type EnteredQuantity } from './format';

interface TextAndUnit {
  text: string;
  unit: string;
}

/** What stands in a quantity's field: the text as typed, and the unit beside it. */
export interface QuantityDraft extends TextAndUnit {
  /** of a pressure, which is shown in the unit of the page: what it was before anybody typed, and how that was shown */
  before?: TextAndUnit & { quantity: EnteredQuantity | null };
}

export type QuantityReading = { ok: true; quantity: EnteredQuantity | null } | { ok: false; code: string };

/** So many digits at least of a figure that is shown in another unit than that in which it was typed. */
const LEAST_DIGITS = 4;

function convert(quantity: EnteredQuantity, kind: QuantityKind, unit: string): string {
  const typed = toTypedText(quantity)
    .number.replace(/[^0-9]/g, '')
    .replace(/^0+/, '');
  const digits = Math.min(15, Math.max(LEAST_DIGITS, typed.length));
  return String(Number(fromSi(toSi(quantity.value, quantity.unit, kind), unit, kind).toPrecision(digits)));
}

const asTyped = ({ value, digits }: EnteredQuantity): string =>
  digits === undefined ? String(value) : value.toFixed(digits);

/**
 * How a form begins with a quantity. All pressures of a page are in one unit; another quantity stays as it was typed.
 * @param unit of an empty field, and of every pressure
 */
export function toQuantityDraft(quantity: EnteredQuantity | null, kind: QuantityKind, unit: string): QuantityDraft {
  if (kind !== 'pressure')
    return quantity === null ? { text: '', unit } : { text: asTyped(quantity), unit: quantity.unit };
  const text = quantity === null ? '' : quantity.unit === unit ? asTyped(quantity) : convert(quantity, kind, unit);
  return { text, unit, before: { quantity, text, unit } };
}

const isUntouched = ({ text, unit, before }: QuantityDraft): boolean =>
  before !== undefined && before.text === text && before.unit === unit;

/** The same in the unit that the page has by now, unless somebody has typed in it. */
export function inUnitOfPage<D extends QuantityDraft>(draft: D, kind: QuantityKind, unit: string): D {
  if (draft.before === undefined || draft.unit === unit || !isUntouched(draft)) return draft;
  return { ...draft, ...toQuantityDraft(draft.before.quantity, kind, unit) };
}

/** Digits after the decimal point of a number as typed. */
function countPlaces(text: string): number {
  const decimals = /[.,](\d+)(?!.*[.,]\d)/.exec(text.replace(/[eE].*$/, ''));
  return Math.min(15, decimals?.[1]?.length ?? 0);
}

/** Reads the draft: an empty field is null, "2600 psi" goes before the unit chosen beside it; what nobody touched is as it was. */
export function readQuantity(draft: QuantityDraft, kind: QuantityKind): QuantityReading {
  if (draft.before !== undefined && isUntouched(draft)) return { ok: true, quantity: draft.before.quantity };
  if (draft.text.trim() === '') return { ok: true, quantity: null };
  const result = parseQuantity(draft.text, { kind, defaultUnit: draft.unit });
  if (!result.ok) return { ok: false, code: result.problem.code };
  const { value, unit } = result.quantity;
  // Nothing is colder than absolute zero.
  if (kind === 'temperature' && toSi(value, unit, kind) < 0) return { ok: false, code: 'too-small' };
  return { ok: true, quantity: { value, unit, digits: countPlaces(draft.text) } };
}

/** What a draft says, for whoever compares two versions: a figure that cannot be read as it was typed. */
export function toDraftText(draft: QuantityDraft, kind: QuantityKind): string | null {
  const reading = readQuantity(draft, kind);
  if (!reading.ok || reading.quantity === null) return null;
  const { quantity } = reading;
  const shown = toTypedText(isUntouched(draft) ? { value: Number(draft.text), unit: draft.unit } : quantity);
  return `${shown.number} ${shown.unit}`;
}
