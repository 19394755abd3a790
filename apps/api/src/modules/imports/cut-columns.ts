import { CUTTING_MATERIALS } from '@repo/calc';
import { CUT_FIGURES, cutSchema, importField, type Cut, type CutEntry } from '@repo/contracts';
import { toSi, type QuantityKind } from '@repo/quantity';
import { operationCut } from '../../documents/operation-cut.js';
import { typedRequiredOf, type OperationsService } from '../operations/index.js';
import { decimalsOf } from './decimals.js';
import { readPlaced, toPlaceText, WRITTEN } from './cut-places.js';
import type { DerivedColumn, ValueOf } from './derived-columns.js';
import { given, isSaid, refuse, resulting } from './deciding.js';
import { fold, isSame, type Rec } from './plan-model.js';
import type { QuantityValue, Value } from './read-value.js';
import { resultingOf } from './resulting.js';

const FIGURES = Object.entries<CutEntry>(CUT_FIGURES);
export const CUT_NAMES = FIGURES.map(([name]) => name);

export function toQuantityValue(
  { value, unit, digits = decimalsOf(value) }: { value: number; unit: string; digits?: number | undefined },
  kind: QuantityKind,
): QuantityValue {
  return { value, unit, digits, si: toSi(value, unit, kind) };
}

function toValue(entry: CutEntry, typed: unknown): Value | null {
  switch (entry.type) {
    case 'quantity':
      return toQuantityValue(typed as Parameters<typeof toQuantityValue>[0], entry.kind);
    case 'point':
    case 'direction':
      return toPlaceText([typed as Parameters<typeof toPlaceText>[0][number]]);
    case 'points':
    case 'directions':
      return toPlaceText(typed as Parameters<typeof toPlaceText>[0]);
    default:
      return typed as Value;
  }
}

/** What a cut says, field by field. */
const valuesOf = (cut: Cut): Record<string, Value> =>
  Object.fromEntries(
    FIGURES.flatMap(([name, entry]) => {
      const typed: unknown = cut[name as keyof Cut];
      const value = typed === null ? null : toValue(entry, typed);
      return value === null || value === '' ? [] : [[name, value]];
    }),
  );

const toWire = (quantity: Value | null) => {
  if (quantity === null) return null;
  const { value, unit, digits } = quantity as QuantityValue;
  return { value, unit, digits };
};

/** As the contract has it. */
function toTyped(entry: CutEntry, value: Value): unknown {
  switch (entry.type) {
    case 'quantity':
      return toWire(value);
    case 'point':
    case 'direction':
      return readPlaced(String(value), entry)?.[0];
    case 'points':
    case 'directions':
      return readPlaced(String(value), entry);
    default:
      return value;
  }
}

/** The cut afterwards: what the fields say; what says the same as before stays as it was typed. Null: nobody has described it. */
export function toCut(before: Cut | null, valueOf: ValueOf): Cut | null {
  if (valueOf('method') === null) return before;
  const was: Readonly<Record<string, Value>> = before === null ? {} : valuesOf(before);
  const changed = FIGURES.flatMap(([name, entry]) => {
    const value = valueOf(name);
    return value === null || isSame(value, was[name] ?? null) ? [] : [[name, toTyped(entry, value)] as const];
  });
  return cutSchema.parse({ ...before, ...Object.fromEntries(changed) });
}

/** The cut is a part of its document; what was computed from it stands there as it is, until it is computed anew. */
export const CUT_COLUMN: DerivedColumn = {
  column: 'cut',
  type: 'jsonb',
  fields: CUT_NAMES,
  read: (stored, whose) => {
    const { cut } = operationCut.read(stored, `operation ${whose}`);
    return cut === null ? {} : valuesOf(cut);
  },
  make: (before, valueOf) => {
    const stored = before === null ? null : operationCut.read(before.cut, `operation ${String(valueOf('number'))}`);
    return operationCut.write({
      cut: toCut(stored?.cut ?? null, valueOf),
      computed: stored?.computed ?? null,
      typedRequired: stored?.typedRequired ?? null,
    });
  },
};

const headerOf = (name: string): string => importField(`operation.${name}`)?.header ?? name;

/** Places are compared as they are written, however a file spells them. */
function settlePlaces(rec: Rec): void {
  for (const [name, entry] of FIGURES) {
    const needs = WRITTEN[entry.type];
    const cell = rec.values.get(name);
    if (needs === undefined || cell === undefined || !('most' in entry) || entry.type === 'number') continue;
    const placed = readPlaced(String(cell.value), entry);
    if (placed === null) refuse(rec, 'cut-place', { got: String(cell.value).slice(0, 60), needs }, name);
    else rec.values.set(name, { ...cell, value: toPlaceText(placed) });
  }
}

const groupOf = (id: Value | null | undefined) => CUTTING_MATERIALS.find((group) => group.id === id);

/** A group is known by its id or its name. As in the form its figures stand where a file says none, and where those of another group stood. */
function settleGroup(rec: Rec): void {
  const cell = rec.values.get('materialGroup');
  if (cell === undefined) return;
  const was = rec.existing?.values.materialGroup ?? null;
  const asked = fold(String(cell.value));
  const group = CUTTING_MATERIALS.find(({ id, name }) => fold(id) === asked || fold(name) === asked);
  if (group === undefined) {
    if (cell.value === was) return;
    const names = CUTTING_MATERIALS.map(({ name }) => name).join('; ');
    const fields = `${CUT_FIGURES.kc11.label}, ${CUT_FIGURES.mc.label}`;
    refuse(rec, 'cut-group', { got: String(cell.value), names, fields }, 'materialGroup');
    return;
  }
  rec.values.set('materialGroup', { ...cell, value: group.id });
  if (group.id === was) return;
  const toForce = (kc11Pa: number): QuantityValue => ({ value: kc11Pa / 1e6, unit: 'N/mm2', digits: 0, si: kc11Pa });
  const former = groupOf(was);
  const figures: readonly [string, Value, Value | null][] = [
    ['kc11', toForce(group.kc11Pa), former === undefined ? null : toForce(former.kc11Pa)],
    ['mc', group.mc, former?.mc ?? null],
  ];
  for (const [name, value, ofFormer] of figures) {
    const standing = rec.existing?.values[name] ?? null;
    if (!isSaid(rec, name) && (standing === null || isSame(standing, ofFormer))) {
      rec.values.set(name, { value, cell: null });
    }
  }
}

/** Judges what a file says of a cut, and brings it into the form in which it is compared and written. */
export function settleCut(rec: Rec): void {
  settlePlaces(rec);
  settleGroup(rec);
  const first = CUT_NAMES.find((name) => isSaid(rec, name));
  const isAsked = first !== undefined || resulting(rec, 'requiredBasis') === 'computed';
  if (!isAsked || resulting(rec, 'method') !== null || rec.unread.has('method')) return;
  refuse(rec, 'operation-without-method', { name: rec.label, fields: headerOf('method') });
}

/** What the service of operations asks of one: as a file leaves it, with what was typed before kept beside what is computed. */
export function requiredFieldsOf(rec: Rec): Parameters<OperationsService['requireIn']>[1] {
  const { existing } = rec;
  const valueOf = resultingOf(rec);
  const stored = existing === null ? null : operationCut.read(existing.derived.cut, `operation ${rec.label}`);
  const before = existing?.values;
  const typed = typedRequiredOf({
    requiredBasis: before?.requiredBasis === 'computed' ? 'computed' : 'typed',
    requiredPressure: toWire(before?.requiredPressure ?? null),
    requiredSource: String(before?.requiredSource ?? ''),
    typedRequired: stored?.typedRequired ?? null,
  });
  return {
    requiredBasis: valueOf('requiredBasis') === 'computed' ? 'computed' : 'typed',
    cut: toCut(stored?.cut ?? null, valueOf),
    requiredPressure: toWire(given(rec, 'requiredPressure')) ?? typed.requiredPressure,
    requiredSource: String(given(rec, 'requiredSource') ?? typed.requiredSource),
  };
}
