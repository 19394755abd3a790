import type { ActuationInput, FlowControl, LineFitting, LinePiece } from '../circuit-checks/actuation.types.js';
import type { ComponentFacts, ComponentKind, LineFunction } from './circuit-facts.types.js';
import { figureOf, refOf } from './component-figures.js';

const LINES = ['supply', 'clamp', 'unclamp', 'tank'] as const satisfies readonly LineFunction[];

/**
 * What oil passes on its way, and how many bores of line one of each kind usually loses: a tee through its branch, a block as two of them,
 * and what holds a poppet as a lift check valve, the highest of the table (Crane TP-410, from memory; common practice). It counts where
 * nobody has said what is lost, and the checks that it enters say of how many.
 */
const USUAL_BORES: ReadonlyMap<ComponentKind, number> = new Map([
  ['fitting', 60],
  ['manifold', 120],
  ['check-valve', 600],
  ['quick-coupling', 600],
  ['rotary-union', 600],
  ['through-table-coupling', 600],
  ['filter', 600],
]);

/** The tubes and hoses of one line, each with its bore. */
export function toPieces(components: readonly ComponentFacts[], line: LineFunction): LinePiece[] {
  return components
    .filter(({ kind, lineFunctions }) => (kind === 'tube' || kind === 'hose') && lineFunctions.includes(line))
    .map((component) => {
      const [outerM, wallM] = [figureOf(component, 'outerDiameter'), figureOf(component, 'wall')];
      const isHose = component.kind === 'hose';
      return {
        ref: refOf(component),
        lengthM: figureOf(component, 'length'),
        innerDiameterM: isHose
          ? figureOf(component, 'innerDiameter')
          : outerM === null || wallM === null
            ? null
            : outerM - 2 * wallM,
        isHose,
        expansionModulusPa: isHose ? figureOf(component, 'expansionModulus') : null,
      };
    });
}

function toFittings(components: readonly ComponentFacts[], line: LineFunction): LineFitting[] {
  return components.flatMap((component) => {
    const usualBores = USUAL_BORES.get(component.kind);
    if (usualBores === undefined || !component.lineFunctions.includes(line)) return [];
    return [
      {
        ref: refOf(component),
        lossCoefficient: figureOf(component, 'lossCoefficient'),
        equivalentLengthM: figureOf(component, 'equivalentLength'),
        innerDiameterM: figureOf(component, 'innerDiameter'),
        usualBores,
      },
    ];
  });
}

function toFlowControls(components: readonly ComponentFacts[]): FlowControl[] {
  return components
    .filter(({ kind }) => kind === 'flow-control-valve')
    .flatMap((component) =>
      component.lineFunctions.map((line) => ({
        ref: refOf(component),
        line,
        toCylindersM3PerS: figureOf(component, 'flowToCylinders'),
        fromCylindersM3PerS: figureOf(component, 'flowFromCylinders'),
      })),
    );
}

const plus = (figure: number | null, more: number | null): number | null => figure && figure + (more ?? 0);

/** The lines of a circuit with all that stands in them. */
export function toLines(
  components: readonly ComponentFacts[],
): Required<Pick<ActuationInput, 'lines' | 'fittings' | 'flowControls' | 'sequenceValves'>> {
  const ofEach = <T>(make: (line: LineFunction) => T): Record<LineFunction, T> => {
    const [supply, clamp, unclamp, tank] = LINES.map(make) as [T, T, T, T];
    return { supply, clamp, unclamp, tank };
  };
  return {
    lines: ofEach((line) => toPieces(components, line)),
    fittings: ofEach((line) => toFittings(components, line)),
    flowControls: toFlowControls(components),
    sequenceValves: components
      .filter(({ kind, place }) => kind === 'sequence-valve' && place === 'circuit')
      .map((component) => ({
        ref: refOf(component),
        // It surely lets oil through.
        openingPressurePa: plus(figureOf(component, 'openingPressure'), figureOf(component, 'openingTolerance')),
        lines: component.lineFunctions,
      })),
  };
}
