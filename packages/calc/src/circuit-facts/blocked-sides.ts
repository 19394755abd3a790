import { cylinderForce } from '../cylinders/cylinder-force.js';
import type { BlockedSide } from '../pressure-ladder/pressure-ladder.types.js';
import type { CircuitFacts } from './circuit-facts.types.js';
import { CYLINDERS, figureOf, mayBeIn, pulls, pullsOf, refOf } from './component-figures.js';

/** Piston area over annulus area; null: not known, or no such cylinder. */
export function areaRatio(boreM: number | null, rodM: number | null): number | null {
  if (boreM === null || rodM === null || rodM <= 0 || rodM >= boreM) return null;
  return cylinderForce({ boreM, rodM, pressurePa: 0, backPressurePa: 0, efficiency: 1 }).areaRatio;
}

interface Sides {
  ref: NonNullable<BlockedSide['ref']>;
  /** null: nobody has said */
  pulls: boolean | null;
  ratio: number | null;
}

/**
 * Of one cylinder that oil moves both ways: the side upon the unclamp line is shut in while clamping, that upon the clamp line while
 * unclamping. The rod side is intensified by piston over annulus, the piston side sees less than what presses upon the rod's. What may
 * pull or push has a rod side on both lines.
 */
function toBlockedSides({ ref, pulls: isPulling, ratio }: Sides): BlockedSide[] {
  const onPiston = ratio === null ? 1 : 1 / ratio;
  return [
    { ref, line: 'unclamp', ratio: isPulling === true ? onPiston : ratio },
    { ref, line: 'clamp', ratio: isPulling === false ? onPiston : ratio },
  ];
}

/** Every side of a circuit's cylinders that a blocked line shuts in, each by its own areas. */
export function listBlockedSides({ fixture, components }: CircuitFacts): BlockedSide[] {
  const fixtures = fixture === null ? [] : [fixture];
  const moving = fixtures.flatMap(({ id, name, elements }) =>
    elements
      .filter(({ kind }) => kind !== 'locator')
      .map((element) => ({ id, name: `${name}: ${element.name}`, element })),
  );
  const ownCylinders = components.filter(({ kind, place }) => CYLINDERS.has(kind) && place === 'circuit');
  // Nobody knows what moves in the circuit: rod sides of some areas.
  if (moving.length === 0 && ownCylinders.length === 0) return [{ ref: null, line: 'unclamp', ratio: null }];
  const ofFixture = moving
    .filter(({ element }) => element.acting !== 'single')
    .map(({ id, name, element }): Sides => ({
      ref: { entity: 'fixture', id, name },
      pulls: pullsOf(element),
      ratio: areaRatio(element.boreM, element.rodM),
    }));
  const ofCircuit = ownCylinders
    .filter((component) => mayBeIn(component, 'unclamp'))
    .map((component): Sides => ({
      ref: refOf(component),
      pulls: pulls(component),
      ratio: areaRatio(figureOf(component, 'bore'), figureOf(component, 'rod')),
    }));
  return [...ofFixture, ...ofCircuit].flatMap(toBlockedSides);
}
