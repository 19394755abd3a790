import type { Direction } from '../figures/figure.types.js';
import type { HoldingLoad } from './holding-force.js';
import type { CutFigures } from './required-of-cut.types.js';
import { scaleBy, ZERO_VECTOR, type Vector3 } from './vector.js';

/** What is said of a pallet that moves with the workpiece clamped, with the way in which each can only ask for more. */
export const INDEXING_FIGURES = {
  indexingSpeedRadPerS: 'higher',
  indexingAccelerationRadPerS2: 'higher',
  indexingRadiusM: 'higher',
  workpieceRadiusM: 'higher',
} as const satisfies Partial<Record<keyof CutFigures, Direction>>;

type Field = keyof typeof INDEXING_FIGURES;
const FIELDS = Object.keys(INDEXING_FIGURES) as Field[];
const MOTION: readonly Field[] = ['indexingSpeedRadPerS', 'indexingAccelerationRadPerS2'];

const GOLDEN = (1 + Math.sqrt(5)) / 2;
/** Corners of the icosahedron around a ball of radius one: whatever lies in the ball lies between them, and none is further out than 1.26. */
const AROUND = [-1, 1]
  .flatMap((one) =>
    [-GOLDEN, GOLDEN].flatMap((other): Vector3[] => [
      [0, one, other],
      [one, other, 0],
      [other, 0, one],
    ]),
  )
  .map((corner) => scaleBy(Math.sqrt(3) / GOLDEN ** 2, corner));

const cornersOf = (size: number): readonly Vector3[] =>
  size === 0 ? [ZERO_VECTOR] : AROUND.map((corner) => scaleBy(size, corner));

/**
 * What lacks to know how the movement loads the workpiece. It is asked for once anything is said of a movement: that the weight comes
 * to act in another direction, or one of the figures. A pallet that moves so slowly that nothing of it is felt is said by two zeros.
 */
export function listMissingOfIndexing(cut: CutFigures): Field[] {
  const isSaid = (field: Field): boolean => cut[field] != null;
  if ((cut.otherGravities ?? []).length === 0 && !FIELDS.some(isSaid)) return [];
  const asked = MOTION.every((field) => cut[field] === 0) ? MOTION : FIELDS;
  return asked.filter((field) => !isSaid(field));
}

type Moving = CutFigures & { partMassKg: number; centreOfMassM: Vector3 };

/**
 * Load cases of a pallet that tilts or turns while the workpiece is clamped and not cut, with the weight in each direction in which it may act.
 *
 * A point at r from an axis is accelerated by α×r + ω×(ω×r), two parts square to each other: by no more than |r|·√(α² + ω⁴). So the workpiece
 * of mass m, its centre of mass at R from the axis and none of it further than r from its centre of mass, presses with F ≤ m·R·√(α² + ω⁴)
 * at that centre, and turns about it with M ≤ m·r²·√(α² + ω⁴): −I·α, and what products of inertia add. Nobody has said where the axis
 * runs, and a pallet may have two: both are taken in every direction, each together with each of the other. What a fixture holds at a given
 * clamping is convex, so that the corners of a body around all directions ask for at least as much as any of them. As loads they
 * are multiplied by the safety factor; the weight is not.
 * Source: Newton–Euler, as in any textbook of dynamics (Meriam & Kraige, Engineering Mechanics: Dynamics, from memory).
 */
export function indexingLoads(cut: Moving): HoldingLoad[] {
  const { partMassKg, centreOfMassM, otherGravities = [] } = cut;
  // What is asked for is there: what is not there now stands still, or nobody says that it moves.
  const figure = (field: Field): number => cut[field] ?? 0;
  // Of each metre from the axis.
  const perMetre = Math.hypot(figure('indexingAccelerationRadPerS2'), figure('indexingSpeedRadPerS') ** 2);
  const forces = cornersOf(partMassKg * figure('indexingRadiusM') * perMetre);
  const moments = cornersOf(partMassKg * figure('workpieceRadiusM') ** 2 * perMetre);
  if (forces.length + moments.length === 2) return [];
  return [undefined, ...otherGravities].flatMap((gravity, index) =>
    forces.flatMap((forceN) =>
      moments.map((momentNm): HoldingLoad => ({
        name: `indexing/${index + 1}`,
        forceN,
        momentNm,
        pointM: centreOfMassM,
        ...(gravity === undefined ? {} : { gravity }),
      })),
    ),
  );
}
