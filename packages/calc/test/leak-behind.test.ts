import { findLeakBehind, type LeakBehindInput } from '../src/circuit-checks/leak-behind.js';
import { checkHoldsWithoutSupply } from '../src/circuit-checks/without-supply-check.js';
import type { ActuationGroup } from '../src/circuit-checks/actuation.types.js';
import { proveCircuit } from '../src/circuit-checks/prove-circuit.js';
import type { CircuitFacts } from '../src/circuit-facts/circuit-facts.types.js';
import { toProofInput } from '../src/circuit-facts/prove-facts.js';
import { toSpan } from '../src/pressure-ladder/span.js';
import { aCircuit, aFixture, COMPONENTS, ELEMENT, READINGS, SETTINGS } from './facts-builder.js';
import { checkOf, part } from './facts-checks.js';

// A leak past pistons into an unclamp line that is shut in too. Source of the figures: balance of both volumes, by hand.

const ref = { entity: 'bench', id: 'x', name: 'X' };
/** Areas of 3 cm2 upon the clamp line and 5 cm2 upon the unclamp line, as a clamp that pulls has them. */
const PULLS: ActuationGroup = {
  ...{ ref, role: 'clamp', count: 1, pulls: true, acting: 'double' },
  ...{ boreM: Math.sqrt(20e-4 / Math.PI), rodM: Math.sqrt(8e-4 / Math.PI), strokeM: 0, frictionN: 0 },
  ...{ viscousFrictionNsPerM: 1, contactStiffnessNPerM: 1e30, springForceN: null },
};
const lineOf = (volumeM3: number) => [
  { ref, lengthM: volumeM3 / (Math.PI / 4), innerDiameterM: 1, isHose: false, expansionModulusPa: null },
];
/** 100 mL before the clamps and 50 mL behind them, each of 1 GPa. */
const leakInput = (change: Partial<LeakBehindInput> = {}): LeakBehindInput => ({
  groups: [PULLS],
  lines: { supply: [], tank: [], clamp: lineOf(1e-4), unclamp: lineOf(5e-5) },
  ...{ stores: [], clampModulusPa: 1e9, unclampModulusPa: 1e9, lowestPa: 1e7 },
  ...change,
});
const ratioOf = (change: Partial<LeakBehindInput>): number => findLeakBehind(leakInput(change)).ratio.lo;
const missingOf = (change: Partial<LeakBehindInput>): string[] =>
  findLeakBehind(leakInput(change)).missing.map(({ field }) => field);

describe('what the unclamp line rises by for what the clamp line loses', () => {
  it('goes by how stiff both are, and by what clamps spring back by', () => {
    // The same oil in half the volume: twice as much.
    expect(ratioOf({})).toBeCloseTo(2, 9);
    // 12 mm of stroke of 3 cm2 beside: 103.6 mL give way.
    expect(ratioOf({ groups: [{ ...PULLS, strokeM: 0.012 }] })).toBeCloseTo(2.072, 9);
    expect(ratioOf({ unclampModulusPa: 2e9 })).toBeCloseTo(4, 9);
    // At 2e7 N/m: (1e-13 + 9e-8/2e7 - 15e-8/2e7) / (5e-14 + 25e-8/2e7 - 15e-8/2e7) = 9.7e-14 / 5.5e-14.
    expect(ratioOf({ groups: [{ ...PULLS, contactStiffnessNPerM: 2e7 }] })).toBeCloseTo(97 / 55, 9);
    // A clamp that pushes has its larger area before it: (1e-13 + 25e-8/2e7 - 15e-8/2e7) / (5e-14 + 9e-8/2e7 - 15e-8/2e7).
    const pushes = { ...PULLS, pulls: false, contactStiffnessNPerM: 2e7 };
    expect(ratioOf({ groups: [pushes] })).toBeCloseTo(105 / 47, 9);
    // What a spring returns holds oil on the clamp side alone: 5 cm2 and 10 mm are 5 mL more.
    const sprung: ActuationGroup = { ...PULLS, acting: 'single', pulls: false, strokeM: 0.01 };
    expect(ratioOf({ groups: [PULLS, sprung] })).toBeCloseTo(2.1, 9);
    expect(ratioOf({ groups: [sprung] })).toBe(0);
  });

  it('is nothing where clamps that pull spring back far, and has no end where those that push do', () => {
    // Soft at contact: what the piston side takes as the clamp springs back is more than leaks.
    expect(ratioOf({ groups: [{ ...PULLS, contactStiffnessNPerM: 1e5 }] })).toBe(0);
    expect(ratioOf({ groups: [{ ...PULLS, pulls: false, contactStiffnessNPerM: 1e5 }] })).toBe(Infinity);
  });

  it('grows with an accumulator upon the clamp line, whose gas gives way most at the lowest that must hold', () => {
    // 0.1 L filled to 50 bar: 1e-4 x 51.01325e5 / (101.01325e5)2 = 4.9995e-12 m3/Pa, beside 1e-13 of the oil.
    const store = { ref, sizeM3: 1e-4, prechargePa: 50e5 };
    const gas = (1e-4 * 51.01325e5) / 101.01325e5 ** 2;
    expect(ratioOf({ stores: [store], lowestPa: 100e5 })).toBeCloseTo((1e-13 + gas) / 5e-14, 6);
    // Above the lowest its gas has let all oil out at 50 bar.
    expect(ratioOf({ stores: [store], lowestPa: null })).toBeCloseTo((1e-13 + 1e-4 / 51.01325e5) / 5e-14, 6);
    expect(missingOf({ stores: [{ ref, sizeM3: null, prechargePa: null }] })).toEqual([
      'size',
      'leastWorkingPressurePa',
    ]);
  });

  it('is not known without any figure that it stands on', () => {
    expect(missingOf({ groups: [] })).toEqual(['groups']);
    expect(missingOf({ unplaced: [ref] })).toEqual(['lineFunctions']);
    expect(missingOf({ clampModulusPa: null, unclampModulusPa: 0 })).toEqual(['bulkModulusPa', 'unclampBulkModulusPa']);
    expect(missingOf({ groups: [{ ...PULLS, acting: null, pulls: null }] })).toEqual(['acting', 'form']);
    expect(
      missingOf({ groups: [{ ...PULLS, boreM: null, rodM: null, strokeM: null, contactStiffnessNPerM: null }] }),
    ).toEqual(['boreM', 'strokeM', 'contactStiffnessNPerM', 'rodM']);
    const sprung: ActuationGroup = { ...PULLS, acting: 'single', boreM: null };
    expect(missingOf({ groups: [PULLS, sprung] })).toEqual(['boreM']);
    const { lines } = leakInput();
    expect(missingOf({ lines: { ...lines, clamp: [], unclamp: [] } })).toEqual(['clampLine', 'unclampLine']);
    expect(findLeakBehind(leakInput({ groups: [] })).ratio).toEqual({ lo: 0, hi: Infinity });
  });
});

/** A pallet that is away for some time, with 2 bar lost in ten minutes. */
function aPallet(timeWithoutSupplyS: number, change: Partial<CircuitFacts> = {}): CircuitFacts {
  const basis = aCircuit();
  return aCircuit({
    circuit: {
      ...basis.circuit,
      ...{ isDecoupled: true, timeWithoutSupplyS, coolingWithoutSupplyK: 0, isProvedAgain: true, returnPressurePa: 0 },
      ...{
        trappedNetExpansionPerK: 6e-4,
        trappedBulkModulusPa: 6e8,
        unclampBulkModulusPa: 6e8,
        trappedTemperatureRiseK: 0,
      },
    },
    components: COMPONENTS.map((one) => ({ ...one, figures: { ...one.figures, ratedPressure: 400e5 } })),
    fixture: aFixture({
      ratedPressurePa: 400e5,
      elements: [{ ...ELEMENT, ratedPressurePa: 400e5, armPressurePa: 400e5 }],
    }),
    settings: {
      inUse: SETTINGS,
      isAsLeft: true,
      readings: { ...READINGS, oilTemperatureK: 313.15, decayPa: 2e5, decayDurationS: 600 },
    },
    ...change,
  });
}
const leftOf = (facts: CircuitFacts): number =>
  checkOf(facts, 'holds-without-supply')?.stated?.capacityPa ?? Number.NaN;

describe('a pallet that is away', () => {
  it('holds with what is left of the clamp line, less what the unclamp line presses back with', () => {
    // Lines of 2 m and 6 mm, strokes of 12 mm on 4 x 2.8981 cm2, K 600 MPa; contacts of 2e7 N/m; areas as 1.6938 to 1.
    const line = (Math.PI / 4) * 0.006 ** 2 * 2;
    const [piston, annulus] = [(Math.PI / 4) * 0.025 ** 2, (Math.PI / 4) * (0.025 ** 2 - 0.016 ** 2)];
    const [cc, cu, uu] = [annulus ** 2, annulus * piston, piston ** 2].map((area) => (4 * area) / 2e7);
    const given = (line + 4 * annulus * 0.012) / 6e8 + Number(cc) - Number(cu);
    const taken = line / 6e8 + Number(uu) - Number(cu);
    const facts = aPallet(3000);
    const lost = Number(toProofInput(facts).pressureLadder.hold.decayRatePaPerS) * 3000;
    const behind = ((lost * given) / taken) * (piston / annulus);
    const untouched = leftOf(aPallet(0)) - lost;
    expect(leftOf(facts)).toBeCloseTo(untouched - behind, 0);
    // It was told to hold with more than 120 bar.
    expect(untouched).toBeGreaterThan(120e5);
    expect(checkOf(facts, 'holds-without-supply')?.status).toBe('fails');
  });

  it('loses no more from behind than the clamp line has, and nothing where nothing leaks', () => {
    const soft = aFixture({
      elements: [{ ...ELEMENT, form: 'lever-clamp', pulls: false, contactStiffnessNPerM: 1e5 }],
    });
    const facts = aPallet(3000, { fixture: soft });
    const check = checkOf(facts, 'holds-without-supply');
    expect(check?.status).toBe('fails');
    expect(check?.missing).toEqual([]);
    expect(Number.isFinite(check?.stated?.capacityPa)).toBe(true);
    const tight = { ...READINGS, oilTemperatureK: 313.15, decayPa: 0, decayDurationS: 600, gaugeClass: 0 };
    const basis = aPallet(3000, { fixture: soft, settings: { inUse: SETTINGS, isAsLeft: true, readings: tight } });
    expect(checkOf(basis, 'holds-without-supply')).toMatchObject({ missing: [] });
    expect(leftOf(basis)).toBeGreaterThan(leftOf(facts));
  });

  it('is not proven without how stiff its unclamp line is, and with an accumulator holds less', () => {
    const facts = aPallet(900);
    const unsaid = { ...facts, circuit: { ...facts.circuit, unclampBulkModulusPa: null } };
    expect(checkOf(unsaid, 'holds-without-supply')?.missing.map(({ field }) => field)).toContain(
      'unclampBulkModulusPa',
    );
    const stored = part('accumulator', ['clamp'], { size: 5e-5, prechargePressure: 60e5 });
    expect(leftOf({ ...facts, components: [...facts.components, stored] })).toBeLessThan(leftOf(facts));
  });

  it('of which nobody has kept how stiff its unclamp line is, is not proven, whether it has accumulators or not', () => {
    const input = toProofInput(aPallet(900));
    const { stores, ...withoutSupply } = input.withoutSupply;
    const { unclampBulkModulusPa, ...thermal } = input.pressureLadder.thermal;
    expect([stores, unclampBulkModulusPa]).toEqual([[], 6e8]);
    const { checks } = proveCircuit({ ...input, withoutSupply, pressureLadder: { ...input.pressureLadder, thermal } });
    const check = checks.find(({ code }) => code === 'holds-without-supply');
    expect(check?.missing.map(({ field }) => field)).toContain('unclampBulkModulusPa');
  });

  it('of a record that kept its inputs is judged as it was', () => {
    const lost = { ...{ isDecoupled: true, requiredPressurePa: 100e5, settingPa: 160e5, settingHalfWidthPa: 0 } };
    const alone = checkHoldsWithoutSupply({
      ...{ ...lost, gaugeErrorPa: 0, decayRatePaPerS: 1e3, timeWithoutS: 1e3, coolingK: 0, pressurePerKelvinPaPerK: 0 },
      ...{ isProvedAgain: true, marginAsked: 0 },
    });
    const behind = { ratio: toSpan(2), opposed: toSpan(1.5), missing: [] };
    const opposed = checkHoldsWithoutSupply({
      ...{ ...lost, gaugeErrorPa: 0, decayRatePaPerS: 1e3, timeWithoutS: 1e3, coolingK: 0, pressurePerKelvinPaPerK: 0 },
      ...{ isProvedAgain: true, marginAsked: 0, leakBehind: behind },
    });
    // 10 bar of the clamp line; and 20 bar behind, on half as much area again.
    expect(alone.nominal?.capacity).toBeCloseTo(150e5, 3);
    expect(opposed.nominal?.capacity).toBeCloseTo(120e5, 3);
  });
});
