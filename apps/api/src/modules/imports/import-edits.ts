import { isTable } from './entity-tables.js';
import type { ColumnValues } from './import-writer.repository.js';
import type { Rec } from './plan-model.js';
import type { Value } from './read-value.js';

/** As a person's own edit tells it: a quantity as it was typed. */
const toTold = (value: Value | null): unknown =>
  value !== null && typeof value === 'object' && 'si' in value
    ? { value: value.value, unit: value.unit, digits: value.digits }
    : value;

/** Of a record that is changed, each field that the file says otherwise: what it held before, and holds now. */
export function editOf({ entity, label, existing, isExchange, changes }: Rec): {
  before?: ColumnValues;
  changes?: ColumnValues;
} {
  if (existing === null || isExchange) return {};
  const edits = changes.map(({ field, from, to }) => ({ name: field.slice(field.indexOf('.') + 1), from, to }));
  const before = Object.fromEntries(edits.map(({ name, from }) => [name, toTold(from)]));
  const now = Object.fromEntries(edits.map(({ name, to }) => [name, toTold(to)]));
  // An element is told as a part of its fixture.
  return isTable(entity)
    ? { before, changes: now }
    : { before: { elements: { [label]: before } }, changes: { elements: { [label]: now } } };
}
