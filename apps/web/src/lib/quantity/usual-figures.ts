import {
  CIRCUIT_FIGURES,
  COMPONENT_FIGURES,
  ELEMENT_FIGURES,
  POWER_UNIT_FIGURES,
  type ComponentFigureName,
} from '@repo/calc/figures';
import type { ComponentKind } from '@repo/contracts';
import type { Usual } from './figure-doubts';

type Table = Readonly<
  Record<
    string,
    { readonly kind?: unknown; readonly type?: unknown; readonly usual?: readonly [number, number, string] }
  >
>;

/** Of the first of some tables that says it; null: none does. */
function findUsual(name: string, ...tables: readonly Table[]): Usual | null {
  for (const table of tables) {
    const usual = table[name]?.usual;
    if (usual !== undefined) return { low: usual[0], high: usual[1], unit: usual[2] };
  }
  return null;
}

/** Between what a figure of a component usually lies; null: nobody can say. */
export const usualOfComponent = (kind: ComponentKind, name: ComponentFigureName): Usual | null =>
  findUsual(name, COMPONENT_FIGURES[kind]);

/** Of an element of a fixture, as of the clamp or the support that it is. */
export const usualOfElement = (name: string): Usual | null =>
  findUsual(name, ELEMENT_FIGURES, COMPONENT_FIGURES['swing-clamp'], COMPONENT_FIGURES['work-support']);

/**
 * Between what figures of an operation and of its cut usually lie; common practice, no source. Wide on purpose: it tells bar from psi and
 * inches from millimetres.
 */
const OF_OPERATIONS: Readonly<Record<string, readonly [low: number, high: number, unit: string]>> = {
  'operations.required': [5, 700, 'bar'],
  'operations.workpieceLimit': [5, 700, 'bar'],
  'cut.kc11': [200, 6000, 'N/mm2'],
  'cut.kc': [200, 8000, 'N/mm2'],
  'cut.diameter': [0.3, 500, 'mm'],
  'cut.feed': [0.003, 1.5, 'mm'],
  'cut.axialDepth': [0.02, 200, 'mm'],
  'cut.radialWidth': [0.02, 500, 'mm'],
  'cut.pitch': [0.2, 10, 'mm'],
  'cut.workpieceMass': [0.01, 5000, 'kg'],
};

const TABLES: Readonly<Record<string, Table>> = { circuit: CIRCUIT_FIGURES, powerUnit: POWER_UNIT_FIGURES };

/** By the message that names the figure, its record first; null: nobody can say. */
export function usualOfRecord(label: string): Usual | null {
  const [record = '', name = ''] = label.split('.');
  const usual = TABLES[record]?.[name]?.usual ?? OF_OPERATIONS[label];
  return usual === undefined ? null : { low: usual[0], high: usual[1], unit: usual[2] };
}
