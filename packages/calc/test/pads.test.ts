import { calculate } from '../src/registry/registry.js';
import type { CircuitFacts, FixtureElementFacts } from '../src/circuit-facts/circuit-facts.types.js';
import { proveFacts } from '../src/circuit-facts/prove-facts.js';
import { toForceAtLimit } from '../src/strength/pad-pressure.js';
import { aCircuit, aFixture, ELEMENT } from './facts-builder.js';
import { checkOf } from './facts-checks.js';

/** A crowned steel pad on aluminium: invented. */
const PAD: Partial<FixtureElementFacts> = {
  ...{ padForm: 'sphere', padRadiusM: 0.25, padLengthM: null, contactModulusPa: 58.6e9, surfacePressureLimitPa: 3.3e8 },
};
const padded = (change: Partial<FixtureElementFacts> = {}): Partial<CircuitFacts> => ({
  fixture: aFixture({ elements: [{ ...ELEMENT, ...PAD, ...change }] }),
});
const judged = (change: Partial<FixtureElementFacts>) => checkOf(aCircuit(padded(change)), 'workpiece-limit');

test('a pad allows the pressure at which its clamp presses with the force that its face bears: Hertz', () => {
  const forceN = (Math.PI ** 3 * 0.25 ** 2 * 3.3e8 ** 3) / (6 * 58.6e9 ** 2);
  const byHand = (forceN * 250e5) / 4200;
  expect(byHand).toBeGreaterThan(179e5);
  const bears = judged({});
  expect(bears?.status).toBe('holds');
  expect(bears?.stated?.capacityPa).toBeCloseTo(byHand, 0);
  const sharp = judged({ padRadiusM: 0.2 });
  expect(sharp).toMatchObject({
    status: 'fails',
    reason: 'pad-presses-too-hard',
    subject: { name: 'F-1: Swing clamps' },
  });
  expect(sharp?.stated?.capacityPa).toBeCloseTo(byHand * (0.2 / 0.25) ** 2, 0);
  const rung = proveFacts(aCircuit(padded())).rungs.find(({ code }) => code === 'workpiece-limit');
  expect(rung).toMatchObject({ basis: 'pad-pressure', ref: { name: 'F-1: Swing clamps' } });
});

test('a cylinder presses along its line: half the length, half the force', () => {
  const line = { padForm: 'cylinder', padRadiusM: 0.05, padLengthM: 0.02, surfacePressureLimitPa: 3.5e8 } as const;
  const full = judged(line);
  expect(full?.stated?.capacityPa).toBeCloseTo(((Math.PI * 0.05 * 0.02 * 3.5e8 ** 2) / 58.6e9 / 4200) * 250e5, 0);
  expect(judged({ ...line, padLengthM: 0.01 })?.stated?.capacityPa).toBeCloseTo(
    Number(full?.stated?.capacityPa) / 2,
    0,
  );
  expect(judged({ ...line, padLengthM: null })).toMatchObject({
    status: 'unproven',
    missing: [{ field: 'padLengthM', ref: { name: 'F-1: Swing clamps' } }],
  });
});

test('of a pad of which somebody has said something all that it takes is asked; of one of which nobody has, nothing is claimed', () => {
  const fields = (change: Partial<FixtureElementFacts>) => judged(change)?.missing.map(({ field }) => field);
  for (const field of ['padForm', 'padRadiusM', 'contactModulusPa', 'surfacePressureLimitPa', 'ratedForceN'] as const) {
    expect(fields({ [field]: null })).toEqual([field]);
  }
  const none = { padForm: null, padRadiusM: null, contactModulusPa: null, surfacePressureLimitPa: null };
  expect(fields({ ...none, padRadiusM: 0.1 })).toEqual(['padForm', 'contactModulusPa', 'surfacePressureLimitPa']);
  expect(judged(none)).toMatchObject({ status: 'not-applicable', reason: 'not-limiting' });
});

test('an operation that allows less goes before a pad, and a pad before one that does not limit', () => {
  const [operation] = aCircuit().operations as [CircuitFacts['operations'][number]];
  const operations = [{ ...operation, workpieceNotLimiting: false, workpieceLimitPa: 190e5 }];
  expect(checkOf(aCircuit({ ...padded({ padRadiusM: 1 }), operations }), 'workpiece-limit')).toMatchObject({
    status: 'holds',
    stated: { capacityPa: 190e5 },
    subject: { entity: 'operation' },
  });
  // More than the pad bears to hold it: no setting is right.
  const needs = [{ ...operation, requiredPressurePa: 150e5 }];
  const check = checkOf(aCircuit({ ...padded({ padRadiusM: 0.15 }), operations: needs }), 'workpiece-limit');
  expect(check).toMatchObject({ status: 'fails', reason: 'no-window' });
});

test('a length belongs to a cylinder alone', () => {
  const inputs = {
    ...{ radius: { value: 8, unit: 'mm' }, force: { value: 100, unit: 'N' } },
    ...{ padModulus: { value: 210, unit: 'GPa' }, workpieceModulus: { value: 70, unit: 'GPa' } },
  };
  expect(calculate('pad-pressure', { ...inputs, form: 'cylinder' }).problem?.field).toContain('length');
  const length = { value: 8, unit: 'mm' };
  expect(calculate('pad-pressure', { ...inputs, form: 'sphere', length }).problem?.field).toContain('length');
  expect(toForceAtLimit({ form: 'cylinder', radiusM: 1 }, 1, 1)).toBe(0);
});
