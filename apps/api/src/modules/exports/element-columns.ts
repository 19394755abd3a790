import { ELEMENT_FIGURES, factNameOf, type Figure } from '@repo/calc/figures';
import type { ExportColumn } from './export-columns.js';

/** A figure of an element of a fixture: a quantity as typed, with its SI value beside. */
function toColumn(name: string, figure: Figure, header: string): ExportColumn {
  const elementText = `e.element ->> '${name}'`;
  switch (figure.type) {
    case 'quantity': {
      const sql = `(e.element -> 'si' ->> '${factNameOf(name, figure)}')::float8`;
      const entered = `nullif(e.element -> '${name}', 'null')`;
      return { header, type: 'quantity', kind: figure.kind, sql, entered };
    }
    case 'number':
      return { header, type: 'number', sql: `(${elementText})::float8` };
    case 'answer':
      return { header, type: 'boolean', sql: `(${elementText})::boolean` };
    case 'choice':
      return { header, type: 'text', sql: elementText };
  }
}

/** What an element is, then how large it is, then the rest. */
const rankOf = (figure: Figure): number => (figure.type === 'choice' ? 0 : figure.column?.place === 'first' ? 1 : 2);

export const ELEMENT_COLUMNS: readonly ExportColumn[] = Object.entries<Figure>(ELEMENT_FIGURES)
  .sort(([, one], [, other]) => rankOf(one) - rankOf(other))
  .flatMap(([name, figure]) => (figure.column === undefined ? [] : [toColumn(name, figure, figure.column.header)]));
