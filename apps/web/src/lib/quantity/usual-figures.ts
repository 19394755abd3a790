import { COMPONENT_FIGURES, ELEMENT_FIGURES, type ComponentFigureName } from '@repo/calc/figures';
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
 * Between what figures of a circuit, of a power unit and of an operation usually lie; common practice, no source. Wide on purpose: it
 * tells minutes from seconds, bar from psi and inches from millimetres.
 */
const OF_RECORDS: Readonly<Record<string, readonly [low: number, high: number, unit: string]>> = {
  'circuit.clampTimeAllowed': [0.1, 60, 's'],
  'circuit.unclampTimeAllowed': [0.1, 60, 's'],
  'circuit.trappedTemperatureRise': [0.1, 60, 'K'],
  'circuit.timeWithoutSupply': [0.05, 100, 'h'],
  'circuit.coolingWithoutSupply': [0.1, 40, 'K'],
  'circuit.returnPressure': [0.05, 30, 'bar'],
  'powerUnit.plantAirLow': [2, 12, 'bar'],
  'powerUnit.plantAirHigh': [3, 16, 'bar'],
  'powerUnit.gaugeOffReference': [0.1, 40, 'K'],
  'powerUnit.oilViscosityAt40': [5, 500, 'mm2/s'],
  'powerUnit.oilViscosityAt100': [1, 60, 'mm2/s'],
  'powerUnit.oilDensity': [700, 1300, 'kg/m3'],
  'powerUnit.coldOilTemperature': [-30, 45, 'Cel'],
  'powerUnit.workingOilTemperature': [0, 90, 'Cel'],
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

/** By the message that names the figure; null: nobody can say. */
export function usualOfRecord(label: string): Usual | null {
  const usual = OF_RECORDS[label];
  return usual === undefined ? null : { low: usual[0], high: usual[1], unit: usual[2] };
}
