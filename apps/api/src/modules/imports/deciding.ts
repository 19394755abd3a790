import { fieldsOfEntity, type ImportEntity } from '@repo/contracts';
import { IDENTITY } from './identity.js';
import { isSame, remark, type Existing, type Given, type Rec, type Snapshot } from './plan-model.js';
import type { QuantityValue, Value } from './read-value.js';

export interface DecideContext {
  snapshot: Snapshot;
}

/** Columns that stand for other records, or hold several figures in one cell. */
const NOT_COMPARED = new Set(['stations', 'componentType', 'component', 'ownFigures']);

export interface Others {
  recs: ReadonlyMap<ImportEntity, ReadonlyMap<string, Rec>>;
  /** the fitting of each station, by the station */
  fitted: Map<Rec, Rec>;
}
export type Rule = (rec: Rec, context: DecideContext, others: Others) => void;

export const refuse = (rec: Rec, code: string, params: Record<string, string | number> = {}, field?: string): void => {
  const cell = field === undefined ? null : (rec.values.get(field)?.cell ?? null);
  rec.refusals.push(remark(code, params, { cell, field: field === undefined ? null : `${rec.entity}.${field}` }));
};

export const given = (rec: Rec, name: string): Value | null => rec.values.get(name)?.value ?? null;

/** The value afterwards: what the file says, else what is there. */
export const resulting = (rec: Rec, name: string): Value | null =>
  given(rec, name) ?? rec.existing?.values[name] ?? null;

/** Whether the file says it, be it in a cell that cannot be read. */
export const isSaid = (rec: Rec, name: string): boolean => rec.values.has(name) || rec.unread.has(name);

export function requireFields(rec: Rec): void {
  const missing = fieldsOfEntity(rec.entity).filter((field) => field.required === true && !isSaid(rec, field.name));
  if (missing.length > 0) {
    refuse(rec, 'missing', {
      entity: rec.entity,
      name: rec.label,
      fields: missing.map((one) => one.header).join(', '),
    });
  }
}

/** A record that is there takes what the file says differently; one that is not is made. */
export function createOrChange(rec: Rec): void {
  const { existing } = rec;
  if (existing === null) {
    requireFields(rec);
    rec.outcome = 'created';
    return;
  }
  rec.changes = differences(rec, existing, rec.values);
  if (existing.archived) rec.changes.push({ field: 'archived', from: true, to: false, cell: null });
  rec.outcome = rec.changes.length > 0 ? 'changed' : 'unchanged';
}

export const differences = (rec: Rec, existing: Existing, values: ReadonlyMap<string, Given>): Rec['changes'] =>
  [...values]
    .filter(
      ([name, one]) =>
        name !== IDENTITY[rec.entity].by &&
        !NOT_COMPARED.has(name) &&
        !isSame(one.value, existing.values[name] ?? null),
    )
    .map(([name, one]) => ({
      field: `${rec.entity}.${name}`,
      from: existing.values[name] ?? null,
      to: one.value,
      cell: one.cell,
    }));

const siOf = (value: Value | null): number | null =>
  value !== null && typeof value === 'object' && 'si' in value ? (value as QuantityValue).si : null;

export const resultingSi = (rec: Rec, name: string): number | null => siOf(resulting(rec, name));

/** What a record that is there hangs on is not changed by a file. */
export function staysWith(rec: Rec, ...entities: readonly ImportEntity[]): void {
  const { existing } = rec;
  if (existing === null) return;
  for (const entity of entities) {
    const parent = rec.parents[entity];
    const isOther = parent !== undefined && parent.existing?.id !== existing.links[entity];
    if (isOther) refuse(rec, 'cannot-move', { entity, name: parent.label });
  }
}
