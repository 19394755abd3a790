import { toLetDownTime } from '../src/filling/let-down.js';
import type { ClampCircuit } from '../src/filling/clamp-circuit.js';

/** A line of 1 L of oil of 1.5 GPa, without air, hose or clamp, behind 1e12 Pa s/m3. */
const line: ClampCircuit = {
  ...{ freeFlowM3PerS: 1e-5, stallPressurePa: 2e7, supplyResistance: 0, returnResistance: 1e12, lineVolumeM3: 1e-3 },
  ...{ oilModulusPa: 1.5e9, airFraction: 0, polytropic: 1.4, hoseCompliance: 0, groups: [] },
};
const time = (
  fromPa: number,
  toPa: number,
  change: Partial<ClampCircuit> = {},
  resistanceAt = (_flow: number) => 1e12,
) =>
  toLetDownTime({
    pressed: line,

    opening: { ...line, ...change },
    fromPa,
    toPa,
    returnPressurePa: 1e5,
    resistanceAt,
  });

test('falls as a volume that gives way behind a resistance does: V / K x R x ln of the pressures', () => {
  expect(time(1e7, 1e6) / ((1e-3 / 1.5e9) * 1e12 * Math.log(99 / 9))).toBeCloseTo(1, 3);
});

test('takes as long as the oil that comes out through a flow control', () => {
  expect(time(1e7, 1e6, { returnLimitM3PerS: 1e-6 }, () => 1)).toBeCloseTo(((1e-3 / 1.5e9) * 9e6) / 1e-6, 6);
});

test('behind what loses with the square of the flow takes as long as the roots of the pressures say', () => {
  // q = sqrt(p / c) and dt = V / K dp / q: t = V / K sqrt(c) 2 (sqrt(p0) - sqrt(p1)), what stands behind it taken off.
  const squareLoss = 1e18;
  expect(
    time(1e7, 1e6, {}, (flow) => 1e3 + squareLoss * flow) /
      ((1e-3 / 1.5e9) * 1e9 * 2 * (Math.sqrt(99e5) - Math.sqrt(9e5))),
  ).toBeCloseTo(1, 3);
});

test('where it turns laminar stays at that flow until the pressure has fallen to what laminar flow needs', () => {
  // 1.64 is how much more than laminar a smooth line loses at Re = 2300 (Blasius 1913): 8.2e6 Pa, turbulent, and 5e6 Pa, laminar, drive 5e-6 m3/s.
  const expected = (1e-3 / 1.5e9) * (1.64e12 * Math.log(9.9e6 / 8.2e6) + 3.2e6 / 5e-6 + 1e12 * Math.log(5e6 / 0.9e6));
  expect(time(1e7, 1e6, {}, (flow) => (flow > 5e-6 ? 1.64e12 : 1e12)) / expected).toBeCloseTo(1, 2);
});

test('has nothing to let down where it is there already, and never gets below what stands behind it', () => {
  expect(time(1e6, 1e6)).toBe(0);
  expect(time(1e7, 1e5)).toBe(Infinity);
});
