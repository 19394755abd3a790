import { CUT_FIGURES, importField, type CutEntry } from '@repo/contracts';
import type { ExportColumn } from './export-columns.js';

const point = (p: string): string =>
  `format('%s %s, %s %s, %s %s', ${['x', 'y', 'z'].map((along) => `${p} #>> '{${along},value}', ${p} #>> '{${along},unit}'`).join(', ')})`;
const direction = (p: string): string => `format('%s, %s, %s', ${p} ->> 'x', ${p} ->> 'y', ${p} ->> 'z')`;
/** One of none is nothing, not a cell of commas. */
const single = (found: string, written: string): string =>
  `CASE WHEN jsonb_typeof(${found}) = 'object' THEN ${written} END`;
const several = (found: string, written: string): string =>
  `(SELECT string_agg(${written}, '; ' ORDER BY p.n) FROM jsonb_array_elements(
    CASE WHEN jsonb_typeof(${found}) = 'array' THEN ${found} END) WITH ORDINALITY p (place, n))`;

/** A figure of a cut, which lies in the document of its operation: a quantity as it was typed. */
function toColumn(name: string, entry: CutEntry): ExportColumn {
  const header = importField(`operation.${name}`)?.header ?? name;
  const found = `t.cut #> '{cut,${name}}'`;
  const text = `t.cut #>> '{cut,${name}}'`;
  switch (entry.type) {
    case 'quantity':
      return { header, type: 'quantity', kind: entry.kind, sql: `nullif(${found}, 'null')` };
    case 'number':
      return { header, type: entry.isWhole === true ? 'integer' : 'number', sql: `(${text})::float8` };
    case 'point':
      return { header, type: 'text', sql: single(found, point(`(${found})`)) };
    case 'direction':
      return { header, type: 'text', sql: single(found, direction(`(${found})`)) };
    case 'points':
      return { header, type: 'text', sql: several(found, point('p.place')) };
    case 'directions':
      return { header, type: 'text', sql: several(found, direction('p.place')) };
    default:
      return { header, type: 'text', sql: text };
  }
}

/** The columns of a cut, by the keys of their fields. */
export const CUT_COLUMNS: readonly [key: string, column: ExportColumn][] = Object.entries<CutEntry>(CUT_FIGURES).map(
  ([name, entry]) => [`operation.${name}`, toColumn(name, entry)],
);
