import { checkFigures, COMPONENT_FIGURE_COLUMNS, componentKindSchema, figureOf, type FigureIn } from '@repo/contracts';
import { createOrChange, given, isSaid, refuse, resulting, type Rule } from './deciding.js';
import { isSame, type Rec } from './plan-model.js';
import { toTypeFigures } from './type-columns.js';

/** A figure that names no source of its own has that of its row; one that changes never keeps the source of what was there before. */
function settleSources(rec: Rec): void {
  const ofRow = rec.values.get('figuresSource');
  for (const { figure, source, value } of COMPONENT_FIGURE_COLUMNS) {
    const inFile = rec.values.get(figure);
    if (inFile === undefined) {
      const isOfNothing = rec.values.has(source.name) && resulting(rec, figure) === null && !rec.unread.has(figure);
      if (isOfNothing) refuse(rec, 'source-without-figure', { figure: value.header }, source.name);
      continue;
    }
    if (isSaid(rec, source.name)) continue;
    if (ofRow !== undefined) rec.values.set(source.name, ofRow);
    else if (!isSame(inFile.value, rec.existing?.values[figure] ?? null)) {
      refuse(rec, 'figure-without-source', { figure: value.header }, figure);
    }
  }
}

/** Figures are those of their kind, and such as they can be beside each other. */
function judgeFigures(rec: Rec): void {
  const kind = componentKindSchema.safeParse(resulting(rec, 'kind')).data;
  if (kind === undefined) return;
  const headers = new Map(COMPONENT_FIGURE_COLUMNS.map(({ figure, value }) => [figure, value.header]));
  const figures: Record<string, FigureIn> = {};
  const all = toTypeFigures(rec.existing?.derived ?? null, (field) => resulting(rec, field));
  for (const [name, { si: _, ...figure }] of Object.entries(all)) {
    if (figureOf(kind, name) !== undefined) figures[name] = figure;
    else refuse(rec, 'figure-not-of-kind', { kind, figure: headers.get(name) ?? name }, name);
  }
  checkFigures(figures, kind, ({ path, message }) => {
    const name = String(path[1]);
    refuse(rec, 'figure', { figure: headers.get(name) ?? name, needs: message }, name);
  });
}

/** A type of the library. Its kind stays; other figures are a further revision. */
export const decideComponentType: Rule = (rec) => {
  settleSources(rec);
  // It stands beside each figure now; the reason goes with the revision, and is no change by itself.
  rec.values.delete('figuresSource');
  const reason = rec.values.get('reason');
  rec.values.delete('reason');
  createOrChange(rec);
  if (reason !== undefined) rec.values.set('reason', reason);
  const was = rec.existing?.values.kind ?? null;
  if (was !== null && given(rec, 'kind') !== null && given(rec, 'kind') !== was) {
    refuse(rec, 'kind-stays', { kind: String(was) }, 'kind');
  }
  judgeFigures(rec);
};
