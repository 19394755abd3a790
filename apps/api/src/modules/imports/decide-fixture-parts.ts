import { ELEMENT_FIGURES, listTooLow, toWords } from '@repo/calc/figures';
import { CUT_FIGURES, importField, listLackingOfCut } from '@repo/contracts';
import { operationCut } from '../../documents/operation-cut.js';
import { beginsAfter } from '../../platform/clock/period.js';
import { groupBy } from '../../platform/group-by.js';
import { COMPUTED_BY } from '../operations/index.js';
import { CUT_NAMES, settleCut, toQuantityValue } from './cut-columns.js';
import {
  createOrChange,
  differences,
  given,
  isSaid,
  refuse,
  requireFields,
  resulting,
  resultingSi,
  type Others,
  type Rule,
} from './deciding.js';
import { readPlaces, toText } from './places.js';
import { fold, isSame, remark, type Existing, type Rec } from './plan-model.js';
import type { Value } from './read-value.js';

/** Places are compared as they are written, however a file spells them. */
function settlePlaces(rec: Rec): void {
  const places = rec.values.get('places');
  if (places === undefined) return;
  const read = readPlaces(String(places.value));
  if (read !== null) rec.values.set('places', { ...places, value: toText(read.places) });
}

const ALIKE = new WeakMap<Others['recs'], Map<string, Rec[]>>();
/** The elements of one name that a file lists for one fixture. */
function listedAlike(recs: Others['recs'], rec: Rec): readonly Rec[] {
  const nameOf = (one: Rec): string => `${one.parents.fixture?.key ?? ''}|${fold(one.label)}`;
  let alike = ALIKE.get(recs);
  if (alike === undefined) {
    alike = groupBy(recs.get('fixture-element')?.values() ?? [], nameOf);
    ALIKE.set(recs, alike);
  }
  return alike.get(nameOf(rec)) ?? [rec];
}

/** Which element of its fixture each stands for: first those that a file leaves as they are, then the others in their order. */
function pairUp(listed: readonly Rec[], there: readonly Existing[]): Map<Rec, Existing> {
  const pairs = new Map<Rec, Existing>();
  const left = new Set(there);
  const take = (rec: Rec, existing: Existing | undefined): void => {
    if (existing === undefined || pairs.has(rec)) return;
    pairs.set(rec, existing);
    left.delete(existing);
  };
  for (const rec of listed)
    take(
      rec,
      [...left].find((element) => differences(rec, element, rec.values).length === 0),
    );
  for (const rec of listed) take(rec, [...left][0]);
  return pairs;
}

/** Figures that do not go together, of which the file says one at least. */
function judgeOrder(rec: Rec): void {
  if (rec.outcome === 'unchanged') return;
  for (const { figure, other } of listTooLow(ELEMENT_FIGURES, (name) => resultingSi(rec, name))) {
    const field = [figure, other].find((name) => rec.values.has(name));
    if (field === undefined) continue;
    const header = importField(`fixture-element.${figure}`)?.header ?? figure;
    refuse(rec, 'figure', { figure: header, needs: `at least its ${toWords(other)}` }, field);
  }
}

/**
 * A clamp, support or locator is known by its name. Several of one name are known by what is said of them, where the file lists as many as
 * there are: else nobody could say which is meant.
 */
export const decideElement: Rule = (rec, { snapshot }, { recs }) => {
  const listed = listedAlike(recs, rec);
  const there = snapshot.elements(`${rec.parents.fixture?.existing?.id ?? ''}|${fold(rec.label)}`);
  settlePlaces(rec);
  const places = given(rec, 'places');
  if (places !== null && readPlaces(String(places)) === null) {
    refuse(rec, 'places', { got: String(places).slice(0, 60) }, 'places');
  }
  if (listed.length > 1 && listed.length === there.length) {
    for (const other of listed) settlePlaces(other);
    rec.existing = pairUp(listed, there).get(rec) ?? null;
  }
  createOrChange(rec);
  judgeOrder(rec);
  if ((listed.length > 1 || there.length > 1) && listed.length !== there.length) {
    refuse(rec, 'element-twice', { name: rec.label, listed: listed.length, there: there.length }, 'name');
  }
};

const typedOf = (existing: Existing) => {
  const { typedRequired } = operationCut.read(existing.derived.cut, `operation ${String(existing.values.number)}`);
  return {
    requiredPressure: typedRequired?.requiredPressure ?? null,
    requiredSource: typedRequired?.requiredSource ?? '',
  };
};

/** What is computed is no figure of a file: it follows from the cut. An export names it beside, and is taken at its word. */
function settleBasis(rec: Rec): void {
  if (resulting(rec, 'requiredBasis') !== 'computed') return;
  const isOfExport = String(given(rec, 'requiredSource') ?? '').startsWith(COMPUTED_BY);
  for (const field of ['requiredPressure', 'requiredSource']) {
    const inFile = given(rec, field);
    const isAsBefore =
      rec.existing?.values.requiredBasis === 'computed' && isSame(inFile, rec.existing.values[field] ?? null);
    if (inFile !== null && !isOfExport && !isAsBefore) refuse(rec, 'operation-computed', { name: rec.label }, field);
    rec.values.delete(field);
  }
}

/** Who goes back to typing has what was typed before, where the file says nothing else. */
function bringBackTyped(rec: Rec, existing: Existing): void {
  if (existing.values.requiredBasis !== 'computed' || given(rec, 'requiredBasis') !== 'typed') return;
  const typed = typedOf(existing);
  const { requiredPressure } = typed;
  const values: readonly [string, Value | null][] = [
    ['requiredPressure', requiredPressure === null ? null : toQuantityValue(requiredPressure, 'pressure')],
    ['requiredSource', typed.requiredSource],
  ];
  for (const [name, to] of values) {
    if (!isSaid(rec, name)) {
      rec.changes.push({ field: `operation.${name}`, from: existing.values[name] ?? null, to, cell: null });
    }
  }
}

/** That a pressure is computed is told, and what it cannot be computed without as the form tells it; refused by neither. */
function tellComputed(rec: Rec): void {
  if (rec.outcome === 'unchanged' || resulting(rec, 'requiredBasis') !== 'computed') return;
  const figures = Object.fromEntries(CUT_NAMES.map((name) => [name, resulting(rec, name)]));
  const method = CUT_FIGURES.method.choices.find((one) => one === figures.method);
  if (method === undefined) return;
  const lacking = listLackingOfCut({ ...figures, method });
  const name = String(resulting(rec, 'name') ?? rec.label);
  const missing = lacking.map((one) => CUT_FIGURES[one].label).join(', ');
  rec.told.push(lacking.length === 0 ? remark('cut-computed', { name }) : remark('cut-lacks', { name, missing }));
}

function judgeLimit(rec: Rec): void {
  if (resulting(rec, 'workpieceNotLimiting') !== true) return;
  const isNamed = [resulting(rec, 'notLimitingReason'), resulting(rec, 'notLimitingBy')].every(
    (text) => text !== null && text !== '',
  );
  if (!isNamed || resulting(rec, 'workpieceLimit') !== null) {
    refuse(rec, 'workpiece-limit', {}, 'workpieceNotLimiting');
  }
}

/** An operation that is otherwise ends as it was, and begins anew from the day that the file says. */
export const decideOperation: Rule = (rec) => {
  settleBasis(rec);
  settleCut(rec);
  judgeLimit(rec);
  const { existing } = rec;
  if (existing === null) {
    requireFields(rec);
    rec.outcome = 'created';
    tellComputed(rec);
    return;
  }
  const at = given(rec, 'validFrom');
  const was = String(existing.values.validFrom);
  rec.changes = differences(rec, existing, new Map([...rec.values].filter(([name]) => name !== 'validFrom')));
  bringBackTyped(rec, existing);
  if (rec.changes.length === 0) {
    if (at !== null && at !== was) refuse(rec, 'valid-otherwise', { on: was }, 'validFrom');
    rec.outcome = 'unchanged';
    return;
  }
  if (at === null || !beginsAfter(String(at), was)) {
    refuse(rec, 'operation-differs', { name: rec.label, since: was }, 'validFrom');
    return;
  }
  rec.isExchange = true;
  rec.changes.push({
    field: 'operation.validFrom',
    from: was,
    to: at,
    cell: rec.values.get('validFrom')?.cell ?? null,
  });
  rec.outcome = 'changed';
  tellComputed(rec);
};
