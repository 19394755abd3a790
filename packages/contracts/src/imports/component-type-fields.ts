import { toWords, type ComponentFigure } from '@repo/calc/figures';
import { COMPONENT_FIGURES, COMPONENT_KINDS } from '../components/component-kinds.js';
import { fieldsOf, type ImportField } from './import-field-model.js';

const type = fieldsOf('component-type');
const NAME = { max: 120 } as const;
const SHORT = { max: 400 } as const;
const NOTE = { max: 4000 } as const;
/** Where no figure has a most of its own. */
const MOST_RATIO = 1e6;

/** Every figure that some kind of component has, by its name. */
function figuresByName(): ReadonlyMap<string, ComponentFigure> {
  const found = new Map<string, ComponentFigure>();
  for (const figures of Object.values<Readonly<Record<string, ComponentFigure>>>(COMPONENT_FIGURES)) {
    for (const [name, figure] of Object.entries(figures)) {
      const before = found.get(name);
      if (before !== undefined && before.kind !== figure.kind) {
        throw new Error(`${name} is a figure of two kinds of quantity: ${before.kind} and ${figure.kind}`);
      }
      found.set(name, figure);
    }
  }
  return found;
}

/** A figure of a component type in a spreadsheet: its value, and beside it where it comes from. */
export interface ComponentFigureColumns {
  readonly figure: string;
  readonly kind: ComponentFigure['kind'];
  readonly value: ImportField;
  readonly source: ImportField;
}

export const COMPONENT_FIGURE_COLUMNS: readonly ComponentFigureColumns[] = [...figuresByName()].map(
  ([figure, { kind }]) => {
    const header = `Type: ${toWords(figure)}`;
    return {
      figure,
      kind,
      value:
        kind === 'ratio'
          ? type(figure, header, 'number', { min: 0, max: MOST_RATIO })
          : type(figure, header, 'quantity', { kind, zero: true }),
      source: type(`${figure}Source`, `${header}, source`, 'text', SHORT),
    };
  },
);

/** The integrator's library. A figure that names no source of its own has that of the row. */
export const COMPONENT_TYPE_FIELDS: readonly ImportField[] = [
  type('name', 'Type: name', 'text', { required: true, ...NAME }),
  type('kind', 'Type: kind', 'choice', { required: true, choices: COMPONENT_KINDS }),
  type('partNumber', 'Type: part number', 'text', SHORT),
  type('note', 'Type: note', 'text', NOTE),
  type('figuresSource', 'Type: source of its figures', 'text', { ...SHORT, synonyms: ['source', 'data sheet'] }),
  ...COMPONENT_FIGURE_COLUMNS.flatMap(({ value, source }) => [value, source]),
  type('reason', 'Type: reason', 'text', SHORT),
];
