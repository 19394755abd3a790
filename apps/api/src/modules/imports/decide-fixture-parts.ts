import { beginsAfter } from '../../platform/clock/period.js';
import { createOrChange, differences, given, refuse, requireFields, resulting, type Rule } from './deciding.js';
import { readPlaces, toText } from './places.js';
import { isSame, type Rec } from './plan-model.js';

/** Places are compared as they are written, however a file spells them. */
function settlePlaces(rec: Rec): void {
  const places = rec.values.get('places');
  if (places === undefined) return;
  const read = readPlaces(String(places.value));
  if (read === null) refuse(rec, 'places', { got: String(places.value).slice(0, 60) }, 'places');
  else rec.values.set('places', { ...places, value: toText(read.places) });
}

/** A clamp, support or locator is known by its name: two of one name are refused, rather than taken for one. */
export const decideElement: Rule = (rec) => {
  settlePlaces(rec);
  createOrChange(rec);
  if (rec.existing?.derived.isTwice === true || rec.listed > 1) {
    refuse(rec, 'element-twice', { name: rec.label }, 'name');
  }
};

/** What is computed is no figure of a file: it follows from the cut. */
function judgeBasis(rec: Rec): void {
  if (resulting(rec, 'requiredBasis') !== 'computed') return;
  if (rec.existing?.values.requiredBasis !== 'computed') {
    refuse(rec, 'operation-computed', { name: rec.label }, 'requiredBasis');
    return;
  }
  for (const field of ['requiredPressure', 'requiredSource']) {
    const inFile = given(rec, field);
    if (inFile !== null && !isSame(inFile, rec.existing.values[field] ?? null)) {
      refuse(rec, 'operation-computed', { name: rec.label }, field);
    }
  }
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
  judgeBasis(rec);
  judgeLimit(rec);
  const { existing } = rec;
  if (existing === null) {
    requireFields(rec);
    rec.outcome = 'created';
    return;
  }
  const at = given(rec, 'validFrom');
  const was = String(existing.values.validFrom);
  rec.changes = differences(rec, existing, new Map([...rec.values].filter(([name]) => name !== 'validFrom')));
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
};
