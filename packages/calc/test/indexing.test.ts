import { holdingForce, type HoldingLoad } from '../src/holding/holding-force.js';
import { indexingLoads, INDEXING_FIGURES } from '../src/holding/indexing-loads.js';
import { loadSolver } from '../src/holding/load-solver.js';
import type { LinearProgramSolver } from '../src/holding/linear-program.js';
import { requiredOfCut } from '../src/holding/required-of-cut.js';
import type { CutFigures, HoldingElement, RequiredOfCutResult } from '../src/holding/required-of-cut.types.js';
import { add, cross, dot, scaleBy, toUnit, ZERO_VECTOR, type Vector3 } from '../src/holding/vector.js';
import { clamp, drilling, locators, onCircle, STILL } from './cut-builder.js';
import { seeded } from './facts-builder.js';

let solver: LinearProgramSolver;
beforeAll(async () => {
  solver = await loadSolver();
});

const FIELDS = Object.keys(INDEXING_FIGURES) as (keyof typeof INDEXING_FIGURES)[];
const CENTRE: Vector3 = [0, 0, 0.02];
/** √(α² + ω⁴) = 5 rad/s² at ω² = 3 and α = 4. */
const MOVING = {
  indexingSpeedRadPerS: Math.sqrt(3),
  indexingAccelerationRadPerS2: 4,
  indexingRadiusM: 0.3,
  workpieceRadiusM: 0.1,
};
/** Hardly a cut: what it takes to hold the workpiece is what its weight and its movement ask for. */
const hardly = (change: Partial<CutFigures>): CutFigures =>
  drilling({ feedM: 1e-7, partMassKg: 20, centreOfMassM: CENTRE, ...change });
const hold = (change: Partial<CutFigures>, elements: readonly HoldingElement[] = [locators(), clamp()]) =>
  requiredOfCut({ cut: hardly(change), elements, solver });
const forceOf = ({ requiredPressurePa }: RequiredOfCutResult): number => (Number(requiredPressurePa) / 250e5) * 8000;
const loadsOf = (change: Partial<CutFigures>) =>
  indexingLoads({ ...hardly(change), partMassKg: 20, centreOfMassM: CENTRE });

function aDirection(random: () => number): Vector3 {
  for (;;) {
    const tried: Vector3 = [2 * random() - 1, 2 * random() - 1, 2 * random() - 1];
    const length = Math.hypot(...tried);
    if (length > 0.1 && length <= 1) return toUnit(tried);
  }
}

test('by hand: m·R·√(α² + ω⁴) = 20 · 0.3 · 5 = 30 N at the centre of mass, m·r²·√(α² + ω⁴) = 1 N·m about it, in every direction and at most 1.26 of it', () => {
  // Newton–Euler, as in any textbook of dynamics (Meriam & Kraige, Engineering Mechanics: Dynamics, from memory).
  const loads = loadsOf(MOVING);
  expect(loads.every(({ pointM }) => pointM === CENTRE)).toBe(true);
  const random = seeded(1);
  for (let tried = 0; tried < 200; tried += 1) {
    const [along, about] = [aDirection(random), aDirection(random)];
    // Both at once: one load case reaches as far each way.
    const reaches = loads.some(
      ({ forceN, momentNm = ZERO_VECTOR }) => dot(forceN, along) >= 30 - 1e-9 && dot(momentNm, about) >= 1 - 1e-9,
    );
    expect(reaches).toBe(true);
  }
  for (const { forceN, momentNm = ZERO_VECTOR } of loads) {
    expect(Math.hypot(...forceN) / 30).toBeCloseTo(1.2584, 4);
    expect(Math.hypot(...momentNm)).toBeCloseTo(1.2584, 4);
  }
});

test('by hand: hung on a wall, friction of clamp and pads carries weight and twice what the movement adds to it', () => {
  const wall = locators({
    places: [0, 2, 4].map((third) => ({ pointM: onCircle((third * Math.PI) / 3), direction: [0, 0, 1] })),
  });
  const still = hold({ gravity: [1, 0, 0], ...STILL }, [wall, clamp()]);
  const moved = hold({ gravity: [1, 0, 0], ...MOVING, workpieceRadiusM: 0.001 }, [wall, clamp()]);
  const weightN = 20 * 9.80665;
  expect(forceOf(still)).toBeGreaterThanOrEqual(weightN / 0.4);
  expect(forceOf(still)).toBeLessThanOrEqual((1.02 * weightN) / 0.4);
  // S = 2; the corners around all directions lie no further out than 1.2584, those of the cones 2 % inside.
  expect(forceOf(moved)).toBeGreaterThanOrEqual((weightN + 2 * 30) / 0.4);
  expect(forceOf(moved)).toBeLessThanOrEqual((1.02 * (weightN + 2 * 1.2584 * 30)) / 0.4);
  expect(moved.governingCase).toBe('indexing/1');
});

test('it is looked at with the weight in each direction, beside the load cases of the cut', () => {
  const plain = hold({});
  const moved = hold({ ...MOVING, otherGravities: [[0, 0, 1]] });
  const stopped = hold({ ...STILL, otherGravities: [[0, 0, 1]] });
  expect(moved.cases - stopped.cases).toBe(2 * 144);
  // Upside down the clamp alone carries the workpiece.
  expect(moved.governingCase).toBe('indexing/2');
  expect(forceOf(moved)).toBeGreaterThanOrEqual(20 * 9.80665 + 2 * 30);
  expect(forceOf(moved)).toBeGreaterThan(forceOf(stopped));
  expect(forceOf(hold(MOVING))).toBeGreaterThan(forceOf(plain));
  // An upright axis: no other direction of the weight, and yet it moves.
  expect(hold(MOVING).cases - plain.cases).toBe(144);
  expect(hold({ ...MOVING, partMassKg: 0 }).cases).toBe(plain.cases);
  expect(loadsOf({ ...MOVING, indexingRadiusM: 0 })).toHaveLength(12);
});

test('a pallet that is said to tilt, turn or move is asked how fast, and how far out the workpiece stands; never taken for still', () => {
  const askedFor = (change: Partial<CutFigures>) => hold(change).missing.map(({ field }) => field);
  expect(hold({})).toMatchObject({ status: 'held', missing: [] });
  expect(hold({ otherGravities: [[1, 0, 0]] })).toMatchObject({ status: 'missing', requiredPressurePa: null });
  expect(askedFor({ otherGravities: [[1, 0, 0]] })).toEqual(FIELDS);
  for (const field of FIELDS) {
    expect(askedFor({ ...MOVING, [field]: null })).toEqual([field]);
    expect(askedFor({ [field]: MOVING[field] })).toEqual(FIELDS.filter((other) => other !== field));
  }
  expect(askedFor({ otherGravities: [[1, 0, 0]], ...STILL })).toEqual([]);
  expect(askedFor({ indexingSpeedRadPerS: 0 })).toEqual(FIELDS.slice(1));
});

test('what keeps at rest and tips as the pallet moves, at all that the clamps are rated for, is not held', () => {
  // 1000 N beside the pads tip the workpiece about the line of two of them; 60 kg hold that down by 23.5 − 20 N·m at rest.
  const beside = clamp({
    ratedForceN: 1000,
    frictionCoefficient: 0,
    places: [{ pointM: [-0.06, 0, 0.04], direction: [0, 0, -1] }],
  });
  const stop = locators({
    ...{ id: 'stop', quantity: 1, frictionCoefficient: 0 },
    places: [{ pointM: [-0.1, 0, 0], direction: [1, 0, 0] }],
  });
  const moved = (indexingAccelerationRadPerS2: number) =>
    hold(
      {
        ...{ ...MOVING, kc11Pa: 1, partMassKg: 60, pointsM: [[0.02, 0, 0.04]], indexingSpeedRadPerS: 0 },
        indexingAccelerationRadPerS2,
      },
      [locators({ frictionCoefficient: 1 }), stop, beside],
    );
  expect(moved(0.01)).toMatchObject({ status: 'held' });
  expect(moved(1.5)).toMatchObject({ status: 'not-held', governingCase: 'indexing/1' });
});

test('more speed, acceleration or distance never asks for less', () => {
  const before = forceOf(hold({ ...MOVING, otherGravities: [[1, 0, 0]] }));
  for (const field of FIELDS) {
    for (const share of [1.02, 1.5]) {
      const more = hold({ ...MOVING, otherGravities: [[1, 0, 0]], [field]: share * MOVING[field] });
      expect(more.status).toBe('held');
      expect(forceOf(more)).toBeGreaterThanOrEqual(before * (1 - 1e-8));
    }
  }
});

/** What a body made of lumps does to its fixture as it is moved about an axis at `reach` from its centre of mass, added up lump by lump. */
function addUp(lumps: readonly Vector3[], reach: Vector3, turning: Vector3, gaining: Vector3): HoldingLoad {
  let [force, moment] = [ZERO_VECTOR, ZERO_VECTOR];
  for (const lump of lumps) {
    const arm = add(reach, lump);
    const accelerated = add(cross(gaining, arm), cross(turning, cross(turning, arm)));
    const back = scaleBy(-20 / lumps.length, accelerated);
    force = add(force, back);
    moment = add(moment, cross(lump, back));
  }
  return { forceN: force, momentNm: moment, pointM: CENTRE };
}

/** Bodies and movements within the figures, most of them at the edge. */
function moveBodies(count: number): HoldingLoad[] {
  const random = seeded(2);
  const share = (): number => (random() < 0.7 ? 1 : random());
  const { indexingRadiusM, workpieceRadiusM, indexingSpeedRadPerS, indexingAccelerationRadPerS2 } = MOVING;
  return Array.from({ length: count }, () => {
    const axis = aDirection(random);
    const outwards = toUnit(cross(axis, aDirection(random)));
    const half = Array.from({ length: 1 + Math.floor(3 * random()) }, () =>
      scaleBy(
        workpieceRadiusM * share(),
        random() < 0.5 ? toUnit(cross(axis, aDirection(random))) : aDirection(random),
      ),
    );
    return addUp(
      [...half, ...half.map((lump) => scaleBy(-1, lump))],
      scaleBy(indexingRadiusM * share(), outwards),
      scaleBy(indexingSpeedRadPerS * share(), axis),
      scaleBy((random() < 0.5 ? -1 : 1) * indexingAccelerationRadPerS2 * share(), axis),
    );
  });
}

test('a second working, lump by lump of a body: no movement within the figures presses or turns by more than a load case that there is', () => {
  const loads = loadsOf(MOVING);
  const reachOf = (along: Vector3, pick: (load: HoldingLoad) => Vector3): number =>
    Math.max(...loads.map((load) => dot(pick(load), toUnit(along))));
  const pickMoment = ({ momentNm = ZERO_VECTOR }: HoldingLoad): Vector3 => momentNm;
  const shares = moveBodies(1_000).map((load) => ({
    force: Math.hypot(...load.forceN) / reachOf(load.forceN, ({ forceN }) => forceN),
    moment: Math.hypot(...pickMoment(load)) / reachOf(pickMoment(load), pickMoment),
  }));
  const [force, moment] = [shares.map((share) => share.force), shares.map((share) => share.moment)];
  expect(Math.max(...force, ...moment)).toBeLessThanOrEqual(1);
  // It is no more than the figures may ask for: some of them come close.
  expect(Math.max(...force)).toBeGreaterThan(0.95);
  expect(Math.max(...moment)).toBeGreaterThan(0.75);
});

test('and the required pressure holds each of those bodies', () => {
  const cut = hardly({ ...MOVING, gravity: [1, 0, 0] });
  const forceN = forceOf(requiredOfCut({ cut, elements: [locators(), clamp()], solver }));
  const { caseScales } = holdingForce({
    locators: locators().places.map(({ pointM, direction }) => ({ pointM, normal: direction, friction: 0.2 })),
    clamps: [{ pointM: [0, 0, 0.04], direction: [0, 0, -1], forceN, friction: 0.2, fixed: false }],
    ...{ solver, loads: moveBodies(100), partMassKg: 20, centreOfMassM: CENTRE, gravity: [1, 0, 0] as Vector3 },
    ...{ safetyFactor: 2, coneFacets: 16 },
  });
  for (const scale of caseScales) expect(Number(scale ?? Infinity)).toBeLessThanOrEqual(1 + 1e-8);
  expect(Math.max(...caseScales.map(Number))).toBeGreaterThan(0.7);
});
