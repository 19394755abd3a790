import { parseQuantity, isQuantityKind } from '@repo/quantity';
import type { CalculationDescription, FieldDescription } from '@repo/calc';

/** What is typed for one input. Lists hold one draft for each of their entries. */
export interface FieldDraft {
  text: string;
  unit: string;
  items: Record<string, FieldDraft>[];
  fields: Record<string, FieldDraft>;
}

export type Drafts = Record<string, FieldDraft>;
export type Fields = Readonly<Record<string, FieldDescription>>;

/** What could not be read, by path (`parts[0].rating`), with the code of why. */
export type Unread = Readonly<Record<string, string>>;

export function toBlankDraft(field: FieldDescription): FieldDraft {
  return {
    text: '',
    unit: field.units?.[0] ?? '',
    items: [],
    fields: field.fields === undefined ? {} : toBlankDrafts(field.fields),
  };
}

export function toBlankDrafts(fields: Fields): Drafts {
  return Object.fromEntries(Object.entries(fields).map(([name, field]) => [name, toBlankDraft(field)]));
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** Inputs as they were sent, back into what one would have typed. */
export function fromInputs(fields: Fields, inputs: Readonly<Record<string, unknown>>): Drafts {
  const drafts = toBlankDrafts(fields);
  for (const [name, field] of Object.entries(fields)) {
    const value = inputs[name];
    const blank = drafts[name];
    if (value === undefined || blank === undefined) continue;
    drafts[name] = fromInput(field, value, blank);
  }
  return drafts;
}

function fromInput(field: FieldDescription, value: unknown, blank: FieldDraft): FieldDraft {
  if (field.type === 'list' && Array.isArray(value)) {
    return { ...blank, items: value.filter(isRecord).map((item) => fromInputs(field.fields ?? {}, item)) };
  }
  if (field.type === 'object' && isRecord(value)) return { ...blank, fields: fromInputs(field.fields ?? {}, value) };
  if (isRecord(value)) {
    const number = Array.isArray(value['value']) ? value['value'].join('; ') : String(value['value'] ?? '');
    const unit = typeof value['unit'] === 'string' ? value['unit'] : blank.unit;
    return { ...blank, text: field.type === 'like' ? `${number} ${unit}` : number, unit };
  }
  return { ...blank, text: Array.isArray(value) ? value.join('; ') : String(value) };
}

type Read = { value: unknown } | { problem: string } | null;

function toNumber(text: string): number | null {
  const plain = text
    .trim()
    .replace('−', '-')
    .replace(/^([^.]*),([^,]*)$/, '$1.$2');
  const value = Number(plain);
  return plain === '' || !Number.isFinite(value) ? null : value;
}

function readNumbers(text: string): number[] | null {
  const numbers = text
    .split(/[;\s]+/)
    .filter((part) => part !== '')
    .map(toNumber);
  return numbers.includes(null) ? null : numbers.map(Number);
}

function readLike(text: string): Read {
  const parts = /^(.*?\d)\s*([A-Za-z%[µ].*)?$/.exec(text.trim());
  const numbers = readNumbers(parts?.[1] ?? text);
  if (numbers === null) return { problem: 'not-a-number' };
  const value = numbers.length === 1 ? numbers[0] : numbers;
  return { value: parts?.[2] === undefined ? value : { value, unit: parts[2].trim() } };
}

function readText(field: FieldDescription, draft: FieldDraft): Read {
  const text = draft.text.trim();
  if (text === '') return null;
  switch (field.type) {
    case 'quantity': {
      if (field.kind === undefined || !isQuantityKind(field.kind)) return { problem: 'not-a-number' };
      const result = parseQuantity(text, { kind: field.kind, defaultUnit: draft.unit });
      if (!result.ok) return { problem: result.problem.code };
      return { value: { value: result.quantity.value, unit: result.quantity.unit } };
    }
    case 'quantity-list':
    case 'vector': {
      const value = readNumbers(text);
      return value === null ? { problem: 'not-a-number' } : { value: { value, unit: draft.unit } };
    }
    case 'direction':
    case 'number-list': {
      const value = readNumbers(text);
      return value === null ? { problem: 'not-a-number' } : { value };
    }
    case 'word-list':
      return { value: text.split(/[;\s]+/).filter((word) => word !== '') };
    case 'like':
      return readLike(text);
    case 'boolean':
      return { value: text === 'true' };
    case 'word':
    case 'text':
      return { value: text };
    default: {
      const value = toNumber(text);
      return value === null ? { problem: 'not-a-number' } : { value };
    }
  }
}

/** The inputs as they are sent, and what could not be read. What is empty is left out. */
export function readInputs(
  fields: Fields,
  drafts: Drafts,
  path = '',
): { inputs: Record<string, unknown>; unread: Unread } {
  const inputs: Record<string, unknown> = {};
  let unread: Unread = {};
  for (const [name, field] of Object.entries(fields)) {
    const draft = drafts[name];
    if (draft === undefined) continue;
    if (field.type === 'list') {
      const items = draft.items.map((item, index) => readInputs(field.fields ?? {}, item, `${path}${name}[${index}].`));
      for (const item of items) unread = { ...unread, ...item.unread };
      if (items.length > 0) inputs[name] = items.map((item) => item.inputs);
    } else if (field.type === 'object') {
      const inner = readInputs(field.fields ?? {}, draft.fields, `${path}${name}.`);
      unread = { ...unread, ...inner.unread };
      if (Object.keys(inner.inputs).length > 0) inputs[name] = inner.inputs;
    } else {
      const read = readText(field, draft);
      if (read === null) continue;
      if ('problem' in read) unread = { ...unread, [`${path}${name}`]: read.problem };
      else inputs[name] = read.value;
    }
  }
  return { inputs, unread };
}

/** The contract leaves the description open; this is its shape, checked where it matters to a page. */
export function isCalculationDescription(value: unknown): value is CalculationDescription {
  return (
    isRecord(value) &&
    typeof value['id'] === 'string' &&
    typeof value['title'] === 'string' &&
    isRecord(value['inputs']) &&
    isRecord(value['outputs']) &&
    Array.isArray(value['alternatives']) &&
    Array.isArray(value['formula']) &&
    Array.isArray(value['sources'])
  );
}

/** `backPressure` → "back pressure". */
export const toWords = (name: string): string => name.replace(/([a-z0-9])([A-Z])/g, '$1 $2').toLowerCase();
