import { actuate } from '../src/circuit-checks/actuation.js';
import type { ActuationGroup, ActuationInput } from '../src/circuit-checks/actuation.types.js';
import { aRandomCircuit } from './facts-builder.js';
import { toMovementInput } from '../src/circuit-facts/movement-input.js';
import { toViscosityAt } from '../src/oil/oil-viscosity.js';
import { followPlainly, letDownPlainly } from './proof/plain-transient.js';
import { anActuation } from './proof-builder.js';

const [double, support] = anActuation().groups as [ActuationGroup, ActuationGroup];
const sprung = (change: Partial<ActuationGroup> = {}): ActuationGroup => ({
  ...support,
  springForceAtContactN: Number(change.springForceN ?? support.springForceN),
  ...change,
});
const input = (groups: ActuationGroup[], change: Partial<ActuationInput> = {}): ActuationInput =>
  anActuation({ isFromFacts: true, groups, ...change });
const timeOf = (groups: ActuationGroup[], change: Partial<ActuationInput> = {}) =>
  actuate(input(groups, change)).unclampColdS;

const AREA = (Math.PI / 4) * 0.016 ** 2;
const coldNu = toViscosityAt(32e-6, 5.4e-6, 283.15);
const laminar = (lengthM: number, diameterM: number) => (128 * coldNu * 870 * lengthM) / (Math.PI * diameterM ** 4);
/** In oil that much thicker than at 40 °C, 32 mm²/s. */
const VALVE = (4e5 / 1e-4) * (coldNu / 32e-6);
/** Clamp line, valve and tank line in the cold, in a row: Hagen-Poiseuille. */
const RETURN = laminar(3, 0.006) + VALVE + laminar(1.5, 0.008);
/** Against friction for each speed and the loss of what it pushes out itself: (b + R A^2) v = F. */
const byHand = (forceN: number, viscous = 300) => (0.006 * (viscous + RETURN * AREA ** 2)) / forceN;

test('a spring drags its friction along: by hand 6 mm x (b + R A²) / (spring - friction - return line)', () => {
  const withFriction = (frictionN: number) => Number(timeOf([sprung({ frictionN })]));
  for (const frictionN of [0, 20, 60]) {
    // Before it pushes, the clamp line lets down what it holds.
    const letDownS = letDownPlainly(input([sprung({ frictionN })]), coldNu);
    expect(withFriction(frictionN)).toBeCloseTo(byHand(90 - frictionN - 1e5 * AREA) + letDownS, 4);
  }
});

test('a weak spring beside a strong one waits until that is home, and then opens', () => {
  // Clamps with friction for each speed that the line's loss is much greater than.
  const [strong, weak] = [sprung({ springForceN: 600, viscousFrictionNsPerM: 3 }), sprung({ springForceN: 60, viscousFrictionNsPerM: 3 })]; // prettier-ignore
  const narrow = anActuation().lines.clamp.map((piece) => ({ ...piece, innerDiameterM: 0.002 }));
  const lines = { ...anActuation().lines, clamp: narrow };
  const R = laminar(3, 0.002) + VALVE + laminar(1.5, 0.008);
  const alone = (springN: number) => (0.006 * (3 + R * AREA ** 2)) / (springN - 20 - 1e5 * AREA);
  expect(R * AREA * (0.006 / alone(600))).toBeGreaterThan((60 - 20 - 1e5 * AREA) / AREA);
  const letDownS = letDownPlainly(input([strong, weak], { lines }), coldNu);
  expect(timeOf([strong, weak], { lines })).toBeCloseTo(alone(600) + alone(60) + letDownS, 3);
});

test('a spring that does not beat friction and the return line never opens, whatever stands beside it', () => {
  for (const weak of [sprung({ frictionN: 75 }), sprung({ frictionN: 90 })]) {
    expect(timeOf([weak])).toBe('never');
    expect(timeOf([double, weak])).toBe('never');
  }
  // What has no way to go is open.
  const home = Number(timeOf([sprung({ frictionN: 90, strokeM: 0 }), sprung()]));
  expect(home / Number(timeOf([sprung()]))).toBeCloseTo(1, 2);
});

test('springs and what oil drives back share clamp line, valve and tank line: together they take longer than each alone', () => {
  const narrow = anActuation().lines.tank.map((piece) => ({ ...piece, innerDiameterM: 0.003 }));
  const change = { lines: { ...anActuation().lines, tank: narrow } };
  const [driven, returned] = [Number(timeOf([double], change)), Number(timeOf([sprung()], change))];
  const together = Number(timeOf([double, sprung()], change));
  expect(together).toBeGreaterThan(1.05 * Math.max(driven, returned));
  expect(together).toBeLessThan(1.05 * (driven + returned));
});

test('what cannot be followed within so many steps has no time', () => {
  expect(timeOf([{ ...double, strokeM: 1e-300 }, sprung()])).toBeNull();
});

test('a flow control lets out what it lets out, whoever pushes it', () => {
  const fromCylindersM3PerS = 1e-6;
  const control = (line: 'clamp' | 'tank') => ({
    flowControls: [{ ref: support.ref, line, toCylindersM3PerS: 1, fromCylindersM3PerS }],
  });
  const oil = AREA * 0.006;
  const letDownOf = (groups: ActuationGroup[]) => letDownPlainly(input(groups, control('tank')), coldNu);
  const letDownS = letDownOf([sprung()]);
  expect(letDownS).toBeGreaterThan(1);
  expect(timeOf([sprung()], control('tank'))).toBeCloseTo(oil / fromCylindersM3PerS + letDownS, 2);
  // Two clamps of 25 mm, which push by their bore.
  const ofClamps = 2 * (Math.PI / 4) * 0.025 ** 2 * 0.012;
  const both = Number(timeOf([double, sprung()], control('clamp')));
  const together = (oil + ofClamps) / fromCylindersM3PerS + letDownOf([double, sprung()]);
  // What the line lets down while clamps already move need not let down before.
  expect(both / together).toBeCloseTo(1, 1);
  expect(both).toBeLessThan(together);
  expect(both).toBeGreaterThan((oil + ofClamps) / fromCylindersM3PerS);
});

test('more friction, a weaker spring, a narrower line, more pressure behind: never sooner', () => {
  const time = (groups: ActuationGroup[], change: Partial<ActuationInput> = {}) => {
    const found = timeOf(groups, change);
    return found === 'never' ? Infinity : Number(found);
  };
  const strong = sprung({ springForceN: 300 });
  const base = time([double, strong, sprung()]);
  expect(time([double, strong, sprung({ frictionN: 40 })])).toBeGreaterThanOrEqual(base);
  expect(time([double, strong, sprung({ springForceN: 60 })])).toBeGreaterThanOrEqual(base);
  expect(time([double, strong, sprung()], { returnPressurePa: 2e5 })).toBeGreaterThan(base);
  const tank = anActuation().lines.tank.map((piece) => ({ ...piece, innerDiameterM: 0.004 }));
  expect(time([double, strong, sprung()], { lines: { ...anActuation().lines, tank } })).toBeGreaterThan(base);
});

test('agrees with a plain second working of steps, over random circuits', () => {
  let compared = 0;
  for (let seed = 1; seed <= 400 && compared < 12; seed += 1) {
    const { actuation } = toMovementInput(aRandomCircuit(seed));
    const found = actuate(actuation).unclampColdS;
    if (found === null || found === 'never' || found > 3) continue;
    if (!actuation.groups.some(({ acting }) => acting === 'single')) continue;
    if (Object.values(actuation.fittings ?? {}).some((fittings) => fittings.length > 0)) continue;
    const { viscosityAt40M2PerS: at40, viscosityAt100M2PerS: at100, coldTemperatureK } = actuation.oil;
    const nu = toViscosityAt(Number(at40), Number(at100), Number(coldTemperatureK));
    const plain = followPlainly(actuation, nu, 'unclamp').contactS;
    // Between what a movement pushes out and what lets down at first the loss is told a little too large, never too small.
    expect(plain - found).toBeLessThan(0.01 * found + 1e-3);
    expect(found - plain).toBeLessThan(0.04 * found + 1e-3);
    compared += 1;
  }
  expect(compared).toBe(12);
});
