import { ELEMENT_FIGURES, factNameOf, type Figure } from '@repo/calc/figures';
import { importField } from '@repo/contracts';
import type { ExportColumn } from './export-columns.js';

const headerOf = (name: string): string => importField(`fixture-element.${name}`)?.header ?? name;

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

/** Where each piece touches, and its direction: as the import reads it. */
const PLACES = `(SELECT string_agg(format('%s %s, %s %s, %s %s toward %s, %s, %s',
    p.place #>> '{x,value}', p.place #>> '{x,unit}', p.place #>> '{y,value}', p.place #>> '{y,unit}',
    p.place #>> '{z,value}', p.place #>> '{z,unit}',
    p.place #>> '{direction,x}', p.place #>> '{direction,y}', p.place #>> '{direction,z}'), '; ' ORDER BY p.n)
  FROM jsonb_array_elements(coalesce(e.element -> 'places', '[]')) WITH ORDINALITY p (place, n))`;

/** The columns of an element, by its fields: it lies in the document of its fixture. */
export const ELEMENT_COLUMNS: readonly [name: string, column: ExportColumn][] = [
  ...['name', 'kind'].map((name): [string, ExportColumn] => [
    name,
    { header: headerOf(name), type: 'text', sql: `e.element ->> '${name}'` },
  ]),
  ['quantity', { header: headerOf('quantity'), type: 'integer', sql: "(e.element ->> 'quantity')::int" }],
  ...Object.entries<Figure>(ELEMENT_FIGURES).map(([name, figure]): [string, ExportColumn] => [
    name,
    toColumn(name, figure, headerOf(name)),
  ]),
  ['places', { header: headerOf('places'), type: 'text', sql: PLACES }],
];
