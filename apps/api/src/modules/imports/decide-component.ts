import { toWords } from '@repo/calc/figures';
import { checkFigures, componentKindSchema, type FigureIn } from '@repo/contracts';
import { beginsAfter } from '../../platform/clock/period.js';
import { componentFigures, type StoredFigures } from '../../documents/component-figures.js';
import {
  differences,
  given,
  refuse,
  requireFields,
  resulting,
  type DecideContext,
  type Others,
  type Rule,
} from './deciding.js';
import { compareOwn, readOwnFigures, toOwnText } from './own-figures.js';
import { fold, isSame, type Existing, type Rec } from './plan-model.js';
import { toTypeFigures } from './type-columns.js';

/** A component names its type as the library has it, before or by the same file. */
function settleType(rec: Rec, { snapshot }: DecideContext, { recs }: Others): void {
  const typeName = given(rec, 'componentType');
  if (typeName === null) return;
  const ofFile = recs.get('component-type')?.get(`|${fold(String(typeName))}|`);
  const type = snapshot.componentType(String(typeName));
  if (ofFile !== undefined) rec.parents['component-type'] = ofFile;
  else if (type === undefined) refuse(rec, 'component-type-unknown', { got: String(typeName) }, 'componentType');
  if (ofFile !== undefined && ofFile.refusals.length > 0) {
    refuse(rec, 'parent-refused', { entity: 'component-type', name: ofFile.label }, 'componentType');
  }
  rec.typeId = ofFile?.existing?.id ?? type?.id ?? null;
}

const OWN_FIELD = 'installed-component.ownFigures';

/** The figures of its own that a file gives it. */
function settleOwnFigures(rec: Rec): StoredFigures {
  const cell = rec.values.get('ownFigures');
  if (cell === undefined) return {};
  const read = readOwnFigures(String(cell.value));
  if ('figures' in read) return read.figures;
  refuse(rec, 'own-figures', { got: read.got }, 'ownFigures');
  return {};
}

/** Of what kind a component is, and what its type says of it. */
function typeOf(rec: Rec, { snapshot }: DecideContext): { kind: string; figures: StoredFigures } | null {
  const ofFile = rec.parents['component-type'];
  if (ofFile !== undefined) {
    const figures = toTypeFigures(ofFile.existing?.derived ?? null, (field) => resulting(ofFile, field));
    return { kind: String(resulting(ofFile, 'kind')), figures };
  }
  const id = rec.typeId ?? rec.existing?.links.type ?? null;
  const type = id === null ? undefined : snapshot.componentTypeOfId(id);
  return type === undefined ? null : { kind: type.kind, figures: componentFigures.read(type.figures, type.name) };
}

const toTyped = (figures: StoredFigures): Record<string, FigureIn> =>
  Object.fromEntries(Object.entries(figures).map(([name, { si: _, ...figure }]) => [name, figure]));

/** Figures of its own are those of its kind, and such as they can be beside those of its type. */
function judgeOwnFigures(rec: Rec, figures: StoredFigures, context: DecideContext): void {
  const type = Object.keys(figures).length === 0 ? null : typeOf(rec, context);
  const kind = componentKindSchema.safeParse(type?.kind).data;
  if (type === null || kind === undefined) return;
  const refused = new Set<string>();
  checkFigures(
    toTyped(figures),
    kind,
    ({ path, message }) => {
      const name = String(path[1]);
      if (!refused.has(name)) refuse(rec, 'figure', { figure: toWords(name), needs: message }, 'ownFigures');
      refused.add(name);
    },
    toTyped(type.figures),
  );
}

/** What the cell adds to the figures of its own, and whether it says one of them otherwise: then it is another component. */
function ownChange(
  rec: Rec,
  existing: Existing,
  figures: StoredFigures,
): { changes: Rec['changes']; isOtherwise: boolean } {
  const before = componentFigures.read(existing.derived.figures, rec.label);
  const { otherwise, added } = compareOwn(before, figures);
  if (otherwise.length + added.length === 0) return { changes: [], isOtherwise: false };
  const from = Object.keys(before).length === 0 ? null : toOwnText(before);
  const to = toOwnText({ ...before, ...figures });
  const cell = rec.values.get('ownFigures')?.cell ?? null;
  return { changes: [{ field: OWN_FIELD, from, to, cell }], isOtherwise: otherwise.length > 0 };
}

export const decideComponent: Rule = (rec, context, others) => {
  settleType(rec, context, others);
  const figures = settleOwnFigures(rec);
  judgeOwnFigures(rec, figures, context);
  const { existing } = rec;
  const place = rec.parents.circuit === undefined ? 'power-unit' : 'circuit';
  if (existing === null) {
    requireFields(rec);
    if (rec.parents[place] === undefined) refuse(rec, 'parent-missing', { entity: 'circuit' });
    rec.outcome = 'created';
    return;
  }
  const compared = new Map([...rec.values].filter(([name]) => name !== 'validFrom' && name !== 'reason'));
  const ownFigures = ownChange(rec, existing, figures);
  const changes = [...differences(rec, existing, compared), ...ownFigures.changes];
  const isOtherType = hasType(rec) && rec.typeId !== existing.links.type;
  const parent = rec.parents[place];
  const isOtherPlace = parent !== undefined && (parent.existing?.id ?? '') !== existing.links[place];
  const overwrites = changes.filter(({ field, from }) =>
    field === OWN_FIELD ? ownFigures.isOtherwise : !isSame(from, null),
  );
  const at = given(rec, 'validFrom');
  const was = String(existing.values.validFrom);
  if (!isOtherType && !isOtherPlace && overwrites.length === 0) {
    if (at !== null && at !== was) refuse(rec, 'installed-otherwise', { on: was }, 'validFrom');
    rec.changes = changes;
    rec.outcome = changes.length > 0 ? 'changed' : 'unchanged';
    return;
  }
  // Another component at the same designation: the one before is taken out when this one was put in.
  if (at === null || !beginsAfter(String(at), was)) {
    refuse(rec, 'component-differs', { name: rec.label, since: was }, 'validFrom');
    return;
  }
  if (!hasType(rec)) refuse(rec, 'missing', { entity: rec.entity, name: rec.label, fields: 'Component type' });
  rec.isExchange = true;
  rec.changes = [...changes, { field: 'installed-component.validFrom', from: was, to: at, cell: null }];
  rec.outcome = 'changed';
};

/** Its type is known, or made by the same file. */
const hasType = (rec: Rec): boolean => rec.typeId !== null || rec.parents['component-type'] !== undefined;
