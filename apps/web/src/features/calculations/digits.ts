import type { Drafts, FieldDraft, Fields } from './forms';
import type { FieldDescription } from '@repo/calc';

/** No page shows more. */
const MOST_DIGITS = 6;
const LEAST_DIGITS = 2;

/** Significant digits of a number as it was typed; null: it is none, or zero, which is exact. */
export function countDigits(text: string): number | null {
  const found = /^\s*[-−+]?(\d*)(?:[.,](\d*))?/.exec(text);
  const digits = `${found?.[1] ?? ''}${found?.[2] ?? ''}`.replace(/^0+/, '');
  return digits === '' ? null : digits.length;
}

/** What is counted, chosen or named says nothing of how fine the rest is. */
const EXACT: readonly FieldDescription['type'][] = ['count', 'boolean', 'word', 'word-list', 'text', 'direction'];

function digitsTyped(field: FieldDescription, draft: FieldDraft): number[] {
  if (field.type === 'list') return draft.items.flatMap((item) => listDigits(field.fields ?? {}, item));
  if (field.type === 'object') return listDigits(field.fields ?? {}, draft.fields);
  if (EXACT.includes(field.type) || field.words !== undefined) return [];
  // A ratio that is whole was said, not measured.
  if (field.type === 'number' && /^\s*\d+\s*$/.test(draft.text)) return [];
  const parts = /list$|vector|like/.test(field.type) ? draft.text.split(/[;\s]+/) : [draft.text];
  return parts.map(countDigits).filter((digits) => digits !== null);
}

const listDigits = (fields: Fields, drafts: Drafts): number[] =>
  Object.entries(fields).flatMap(([name, field]) => {
    const draft = drafts[name];
    return draft === undefined ? [] : digitsTyped(field, draft);
  });

/** Significant digits that a result may be shown with: as many as the input has that says least, and at least two. */
export const digitsOf = (fields: Fields, drafts: Drafts): number =>
  Math.max(LEAST_DIGITS, Math.min(MOST_DIGITS, ...listDigits(fields, drafts)));

/**
 * A number of a result, to so many digits. A plain whole number counts something and stays; a share near one is told by what is
 * missing of it.
 */
export function toRounded(value: number, digits: number, hasUnit: boolean): number {
  if (!Number.isFinite(value) || (!hasUnit && Number.isInteger(value))) return value;
  if (!hasUnit && value > 0.9 && value < 1)
    return Number((1 - Number((1 - value).toPrecision(digits))).toPrecision(12));
  return Number(value.toPrecision(digits));
}
