import { millingLoads } from '../src/cutting/cut-loads.js';
import { millingForce, type MillingForceInput } from '../src/cutting/milling-force.js';
import { millingTeeth } from '../src/cutting/milling-teeth.js';
import { holdingForce, type HoldingForceInput, type HoldingLoad } from '../src/holding/holding-force.js';
import type { LinearProgramSolver } from '../src/holding/linear-program.js';
import { loadSolver } from '../src/holding/load-solver.js';
import { add, cross, scaleBy, type Vector3 } from '../src/holding/vector.js';
import { seeded } from './facts-builder.js';

let solver: LinearProgramSolver;
beforeAll(async () => {
  solver = await loadSolver();
});

const cut = (change: Partial<MillingForceInput> = {}): MillingForceInput => ({
  kc11Pa: 1.16e9,
  mc: 0.26,
  cutterDiameterM: 0.063,
  teeth: 6,
  feedPerToothM: 0.0002,
  axialDepthM: 0.002,
  radialWidthM: 0.04,
  engagement: 'centred',
  leadAngleRad: Math.PI / 4,
  speedHz: 0,
  wear: 1.3,
  ...change,
});

/** Three rest pads, two side locators, a stop, and clamps on top, all moved a little by chance. */
function aFixture(loads: readonly HoldingLoad[], seed: number, friction = 0.15): HoldingForceInput {
  const random = seeded(seed);
  const near = (x: number, y: number, z: number): Vector3 => [x + 0.02 * random(), y + 0.02 * random(), z];
  const rest = [near(0.03, 0.03, 0), near(0.24, 0.03, 0), near(0.14, 0.14, 0)];
  return {
    solver,
    partMassKg: 8,
    centreOfMassM: [0.15, 0.1, 0.03],
    gravity: [0, 0, -1],
    locators: [
      ...rest.map((pointM) => ({ pointM, normal: [0, 0, 1] as Vector3, friction })),
      { pointM: [0.06, 0, 0.03], normal: [0, 1, 0], friction },
      { pointM: [0.24, 0, 0.03], normal: [0, 1, 0], friction },
      { pointM: [0, 0.1, 0.03], normal: [1, 0, 0], friction },
    ],
    clamps: [near(0.05, 0.05, 0.06), near(0.22, 0.05, 0.06), near(0.13, 0.12, 0.06)].map((pointM) => ({
      ...{ pointM, direction: [0, 0, -1] as Vector3, forceN: 5000, friction, fixed: false },
    })),
    loads,
    safetyFactor: 2,
    coneFacets: 8,
  };
}
const AXIS: Vector3 = [0, 0, -1];
const RATIO = 0.4;
const AXIAL_N = -300;
const POINT: Vector3 = [0.2, 0.12, 0.06];

/** Every tooth as it stands, by itself: at the rim of the cutter, for one direction of feed and one moment of the turn. */
function atTeeth(input: MillingForceInput, feedAngle: number, offset: number): HoldingLoad[] {
  const { entryAngleRad, exitAngleRad, peakTangentialForceN } = millingForce(input);
  const thickestM = input.feedPerToothM * Math.sin(input.leadAngleRad);
  const widthM = input.axialDepthM / Math.sin(input.leadAngleRad);
  const angles = Array.from({ length: input.teeth }, (_, k) => offset + (2 * Math.PI * k) / input.teeth)
    .map((angle) => angle % (2 * Math.PI))
    .filter((angle) => angle >= entryAngleRad - 1e-9 && angle <= exitAngleRad + 1e-9);
  const each = angles.map((angle) => {
    const thicknessM = thickestM * Math.sin(angle);
    const tangentialN = thicknessM <= 0 ? 0 : input.kc11Pa * widthM * input.wear * thicknessM * (thicknessM * 1000) ** -input.mc;
    // Seen along the axis the cutter turns to the right: with the axis downwards, from x towards −y.
    const outwards: Vector3 = [Math.cos(feedAngle - angle), Math.sin(feedAngle - angle), 0];
    const along = cross(AXIS, outwards);
    const axialN = (AXIAL_N * tangentialN) / peakTangentialForceN;
    const forceN = add(add(scaleBy(tangentialN, along), scaleBy(RATIO * tangentialN, outwards)), scaleBy(axialN, AXIS));
    const arm = scaleBy(input.cutterDiameterM / 2, outwards);
    return { forceN, momentNm: cross(arm, forceN), height: Math.abs(angle - Math.PI / 2) };
  }); // prettier-ignore
  const sum = (some: typeof each): HoldingLoad => ({
    pointM: POINT,
    forceN: some.reduce<Vector3>((total, { forceN }) => add(total, forceN), [0, 0, 0]),
    momentNm: some.reduce<Vector3>((total, { momentNm }) => add(total, momentNm), [0, 0, 0]),
  });
  const ahead = each.sort((a, b) => a.height - b.height);
  // Going in, those ahead cut first; coming out, they are out first.
  return [sum(ahead), sum(ahead.slice(0, 1)), sum(ahead.slice(1))];
}

const scaleOf = (loads: readonly HoldingLoad[], seed: number, friction?: number): number => {
  const { scale } = holdingForce(aFixture(loads, seed, friction));
  if (scale === null) throw new Error('the fixture does not hold');
  return scale;
};
const loadsOf = (input: MillingForceInput, directions: number): HoldingLoad[] =>
  millingLoads({
    pathM: [POINT],
    toolAxis: AXIS,
    cutterDiameterM: input.cutterDiameterM,
    teeth: millingTeeth(input),
    radialRatio: RATIO,
    axialForceN: AXIAL_N,
    directions,
  });

const CUTS: [string, MillingForceInput][] = [
  ['face mill, several teeth in cut', cut()],
  ['end mill of two teeth, up-cut', cut({ teeth: 2, cutterDiameterM: 0.02, radialWidthM: 0.008, engagement: 'up' })],
  ['one tooth in its full width', cut({ teeth: 1, radialWidthM: 0.063 })],
  ['four teeth, down-cut, nearly the whole diameter', cut({ teeth: 4, radialWidthM: 0.06, engagement: 'down' })],
];

test.each(CUTS)('%s: asks for as much as 720 directions of feed, tooth by tooth, and at most 1 %% more', (_, input) => {
  const pitch = (2 * Math.PI) / input.teeth;
  const turned = (directions: number, offset: number): number =>
    scaleOf(
      Array.from({ length: directions }, (_none, k) => atTeeth(input, (2 * Math.PI * k) / directions, offset)).flat(),
      1,
    );
  const moments = Array.from({ length: 8 }, (_none, k) => (pitch * k) / 8);
  const coarse = moments.map((offset) => turned(24, offset));
  const offset = Number(moments[coarse.indexOf(Math.max(...coarse))]);
  // A tooth in the middle of the arc cuts thickest, and at its ends most teeth are in cut.
  const near = [offset, Math.PI / 2, millingForce(input).exitAngleRad];
  const ratio = scaleOf(loadsOf(input, 24), 1) / Math.max(...near.map((moment) => turned(720, moment)));
  expect(ratio).toBeGreaterThan(1 - 1e-6);
  expect(ratio).toBeLessThan(1.012);
});

test('more directions never ask for more than 1 % more, nor for 1 % less than 720', () => {
  for (let seed = 1; seed <= 4; seed += 1) {
    const [few, some, many] = [24, 36, 720].map((directions) => scaleOf(loadsOf(cut(), directions), seed));
    expect(Number(some) / Number(few)).toBeLessThan(1.01);
    expect(Number(many) / Number(few)).toBeLessThan(1.01);
    expect(Number(many) / Number(few)).toBeGreaterThan(0.99);
  }
});

test('a heavier cut, less friction, more safety and a wider axial force never ask for less', () => {
  const asked = (change: Partial<MillingForceInput>, friction = 0.15, seed = 1) =>
    scaleOf(loadsOf(cut(change), 24), seed, friction);
  for (let seed = 1; seed <= 3; seed += 1) {
    const before = asked({}, 0.15, seed);
    expect(asked({ axialDepthM: 0.003 }, 0.15, seed)).toBeGreaterThanOrEqual(before);
    expect(asked({ feedPerToothM: 0.0003 }, 0.15, seed)).toBeGreaterThanOrEqual(before);
    expect(asked({ wear: 1.5 }, 0.15, seed)).toBeGreaterThanOrEqual(before);
    expect(asked({}, 0.12, seed)).toBeGreaterThanOrEqual(before);
    const loads = loadsOf(cut(), 24);
    const safer = holdingForce({ ...aFixture(loads, seed), safetyFactor: 2.5 }).scale;
    expect(safer).toBeGreaterThanOrEqual(before);
  }
});

test('an axial force that presses on the pads is not relied on', () => {
  const pressing = (axialForceN: number) =>
    scaleOf(
      millingLoads({
        ...{ pathM: [POINT], toolAxis: AXIS, cutterDiameterM: 0.063, teeth: millingTeeth(cut()) },
        ...{ radialRatio: RATIO, axialForceN, directions: 24 },
      }),
      1,
    );
  const without = pressing(0);
  expect(pressing(2000)).toBeGreaterThanOrEqual(without * (1 - 1e-9));
  expect(pressing(-500)).toBeGreaterThan(without);
});

test('moments of a turn: one tooth at a time is one case, several are their corners alone', () => {
  const single = millingTeeth(cut({ teeth: 1, radialWidthM: 0.063 }));
  expect(single).toHaveLength(1);
  const { peakTangentialForceN } = millingForce(cut());
  const several = millingTeeth(cut());
  expect(several.length).toBeGreaterThan(1);
  expect(several.length).toBeLessThan(8);
  expect(Math.max(...several.map(({ tangentialN }) => tangentialN))).toBeCloseTo(peakTangentialForceN, 0);
  for (const { tangentialN, resultantN } of several) expect(resultantN).toBeLessThanOrEqual(tangentialN * (1 + 1e-12));
  expect(millingTeeth(cut({ wear: 0 }))).toEqual([{ tangentialN: 0, resultantN: 0 }]);
});
