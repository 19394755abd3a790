import type { Figure, Figures } from '@repo/calc/figures';
import {
  fieldsOf,
  type ImportEntity,
  type ImportField,
  type ImportFieldType,
  type Rest,
} from './import-field-model.js';

/** How a figure stands in a spreadsheet; null: in none. */
export function toColumn(figure: Figure): [header: string, type: ImportFieldType, rest: Rest] | null {
  if (figure.column === undefined) return null;
  const { header, synonyms } = figure.column;
  const rest: Rest = synonyms === undefined ? {} : { synonyms };
  switch (figure.type) {
    case 'quantity':
      return [
        header,
        'quantity',
        {
          kind: figure.kind,
          ...(figure.isZeroAllowed === true ? { zero: true } : {}),
          ...('within' in figure && figure.within !== undefined ? { within: figure.within } : {}),
          ...rest,
        },
      ];
    case 'answer':
      return [header, 'boolean', rest];
    case 'choice':
      return [header, 'choice', { choices: figure.choices, ...rest }];
    case 'number': {
      const { isWhole, isAboveLeast, least: min, most: max } = figure;
      const { kind } = figure.column;
      if (kind !== undefined) {
        const isZeroAllowed = min === 0 && isAboveLeast !== true;
        return [header, 'quantity', { kind, ...(isZeroAllowed ? { zero: true } : {}), within: [min, max], ...rest }];
      }
      return [header, isWhole === true ? 'integer' : 'number', { min, max, ...rest }];
    }
  }
}

/** The columns of a record's figures. */
export const fieldsOfFigures = (entity: ImportEntity, figures: Figures): ImportField[] =>
  Object.entries(figures).flatMap(([name, figure]) => {
    const column = toColumn(figure);
    return column === null ? [] : [fieldsOf(entity)(name, ...column)];
  });
