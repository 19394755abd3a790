import { COMPONENT_FIGURE_COLUMNS, type ComponentFigureColumns } from '@repo/contracts';
import { isDeepStrictEqual } from 'node:util';
import { componentFigures, type StoredFigures } from '../../documents/component-figures.js';
import type { DerivedColumn, StoredColumns, ValueOf } from './derived-columns.js';
import { isSame } from './plan-model.js';
import type { QuantityValue, Value } from './read-value.js';

type StoredFigure = StoredFigures[string];

const decimalsOf = (value: number): number => Math.min(15, String(value).split('.')[1]?.length ?? 0);

const toValue = (kind: ComponentFigureColumns['kind'], { value, unit, digits, si }: StoredFigure): Value =>
  kind === 'ratio' ? value : { value, unit, digits: digits ?? decimalsOf(value), si };

/** One figure as it is kept; as it was where it says the same. */
function toFigure(value: Value, source: string, before: StoredFigure | undefined, columns: ComponentFigureColumns) {
  const isAsBefore = before !== undefined && isSame(toValue(columns.kind, before), value) && before.source === source;
  if (isAsBefore) return before;
  if (typeof value === 'number') return { value, unit: '1', source, si: value };
  const { value: typed, unit, digits, si } = value as QuantityValue;
  return { value: typed, unit, digits, source, si };
}

/** The figures of a type that the columns of a row, and what was there, come to. */
export function toTypeFigures(before: StoredColumns | null, valueOf: ValueOf): StoredFigures {
  const stored = before === null ? {} : componentFigures.read(before.figures);
  const figures = COMPONENT_FIGURE_COLUMNS.flatMap((columns) => {
    const value = valueOf(columns.figure);
    const source = valueOf(columns.source.name);
    if (value === null || source === null) return [];
    return [[columns.figure, toFigure(value, String(source), stored[columns.figure], columns)] as const];
  });
  return { ...stored, ...Object.fromEntries(figures) };
}

/** Each figure lies under its name, with where it comes from. */
export const TYPE_FIGURES_COLUMN: DerivedColumn = {
  column: 'figures',
  type: 'jsonb',
  fields: COMPONENT_FIGURE_COLUMNS.flatMap(({ value, source }) => [value.name, source.name]),
  read: (stored, whose) => {
    const figures = componentFigures.read(stored, whose);
    return Object.fromEntries(
      COMPONENT_FIGURE_COLUMNS.flatMap(({ figure, kind, source }) => {
        const found = figures[figure];
        return found === undefined
          ? []
          : [[figure, toValue(kind, found)] as const, [source.name, found.source] as const];
      }),
    );
  },
  make: toTypeFigures,
};

const FIRST_REVISION = 1;

/** Other figures are a further revision. */
export const TYPE_REVISION_COLUMN: DerivedColumn = {
  column: 'revision',
  type: 'int4',
  fields: [],
  read: () => ({}),
  make: (before, valueOf) => {
    if (before === null) return FIRST_REVISION;
    const isAsBefore = isDeepStrictEqual(toTypeFigures(before, valueOf), componentFigures.read(before.figures));
    return Number(before.revision) + (isAsBefore ? 0 : 1);
  },
};
