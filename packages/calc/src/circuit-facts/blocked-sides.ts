import { cylinderForce } from '../cylinders/cylinder-force.js';
import type { BlockedSide, OpposedSide } from '../pressure-ladder/pressure-ladder.types.js';
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

/** Cylinders that oil moves both ways; null: nobody knows what moves in the circuit. */
function listSides({ fixture, components }: CircuitFacts): Sides[] | null {
  const fixtures = fixture === null ? [] : [fixture];
  const moving = fixtures.flatMap(({ id, name, elements }) =>
    elements
      .filter(({ kind }) => kind !== 'locator')
      .map((element) => ({ id, name: `${name}: ${element.name}`, element })),
  );
  const ownCylinders = components.filter(({ kind, place }) => CYLINDERS.has(kind) && place === 'circuit');
  if (moving.length === 0 && ownCylinders.length === 0) return null;
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
  return [...ofFixture, ...ofCircuit];
}

/** Every side of a circuit's cylinders that a blocked line shuts in, each by its own areas. */
export function listBlockedSides(facts: CircuitFacts): BlockedSide[] {
  // Nobody knows what moves in the circuit: rod sides of some areas.
  return listSides(facts)?.flatMap(toBlockedSides) ?? [{ ref: null, line: 'unclamp', ratio: null }];
}

/**
 * What the unclamp line works upon while clamping, over what the clamp line does: of what pulls piston over annulus, of what pushes the
 * other way round, of what may do either the larger.
 */
export function listOpposedSides(facts: CircuitFacts): OpposedSide[] {
  const sides = listSides(facts);
  if (sides === null) return [{ ref: null, ratio: null }];
  return sides.map(({ ref, pulls: isPulling, ratio }) => ({
    ref,
    ratio: isPulling === false && ratio !== null ? 1 / ratio : ratio,
  }));
}
