import type { CircuitFacts } from '../src/circuit-facts/circuit-facts.types.js';
import { aCircuit, aFixture, ELEMENT, READINGS } from './facts-builder.js';
import { checkOf, leakShareOf, TIGHT } from './facts-checks.js';
import { viscosityAt } from './proof/plain-pressures.js';

/** Swing clamps of 25 mm with rods of 16 mm pull by their annulus: area upon the unclamp line over that upon the clamp line, by hand. */
const RATIO = 625 / (625 - 256);
const { circuit, settings } = aCircuit();

describe('what works against the clamps', () => {
  const withReturn = (returnPressurePa: number | null, change: Partial<CircuitFacts> = {}): CircuitFacts =>
    aCircuit({
      circuit: { ...circuit, returnPressurePa },
      ...change,
    });

  it('what stands in the return line, by the areas of each clamp, is required above what the operation needs', () => {
    const demandOf = (facts: CircuitFacts) => Number(checkOf(facts, 'holds-workpiece')?.stated?.demandPa);
    const free = demandOf(withReturn(0));
    expect(demandOf(withReturn(2e5)) - free).toBeCloseTo(2e5 * RATIO, 3);
    const pushing = aFixture({ elements: [{ ...ELEMENT, form: 'lever-clamp' }] });
    expect(demandOf(withReturn(2e5, { fixture: pushing })) - free).toBeCloseTo(2e5 / RATIO, 3);
    // A spring brings it back: nothing is in an unclamp line that it does not have.
    const single = aFixture({
      elements: [{ ...ELEMENT, acting: 'single', springForceN: 200, springForceAtContactN: 90 }],
    });
    expect(demandOf(withReturn(2e5, { fixture: single }))).toBe(free);
  });

  it('where nobody knows it, nor the areas, nothing holds', () => {
    expect(checkOf(withReturn(2e5), 'holds-workpiece')?.status).toBe('holds');
    expect(checkOf(withReturn(20e5), 'holds-workpiece')).toMatchObject({ status: 'fails', reason: 'below-required' });
    const unsaid = checkOf(withReturn(null), 'holds-workpiece');
    expect(unsaid).toMatchObject({ status: 'unproven' });
    expect(unsaid?.missing).toContainEqual({ field: 'returnPressurePa', ref: null });
    const rodless = aFixture({ elements: [{ ...ELEMENT, rodM: null }] });
    const fields = checkOf(withReturn(2e5, { fixture: rodless }), 'holds-workpiece')?.missing.map(({ field }) => field);
    expect(fields).toContain('rodSideAreaRatio');
  });

  const decoupled = (
    trappedTemperatureRiseK: number | null,
    change: Partial<CircuitFacts['circuit']> = {},
  ): CircuitFacts =>
    aCircuit({
      circuit: {
        ...circuit,
        ...{ isDecoupled: true, timeWithoutSupplyS: 600, coolingWithoutSupplyK: 0, isProvedAgain: true },
        ...{
          trappedNetExpansionPerK: 6e-4,
          trappedBulkModulusPa: 1e9,
          unclampBulkModulusPa: 1e9,
          trappedTemperatureRiseK,
        },
        ...change,
      },
      settings: { ...settings, readings: { ...READINGS, oilTemperatureK: 313.15 } },
    });

  it('oil shut in on both sides of a pallet that warms up takes from what pulls, while the switch reads more', () => {
    expect(checkOf({ ...decoupled(1), settings: TIGHT }, 'holds-without-supply')?.status).toBe('holds');
    const warm = checkOf(decoupled(10), 'holds-without-supply');
    expect(warm).toMatchObject({ status: 'fails', reason: 'warms-below-required' });
    // From 157 bar, 7 bar of leak in 300 s as it is at its start (p = p0 e^(-kt)) for 600 s, more by the pressure that rises from 175 bar and as the oil grows thin; 6 bar for each kelvin on both sides, by hand.
    const workingK = Number(aCircuit().powerUnit.workingOilTemperatureK);
    const [thick, thin] = [workingK, workingK + 10].map((atK) => Number(viscosityAt(aCircuit(), atK)));
    const leakPa =
      ((2 * 175e5 * Math.log(175 / 168) * (1 + (10 * 6e5) / 175e5) * Number(thick)) / Number(thin)) *
      leakShareOf(decoupled(10));
    expect(warm?.stated?.capacityPa).toBeCloseTo(157e5 - leakPa - 10 * 6e5 * (RATIO - 1), 3);
    const pushing = {
      ...decoupled(10),
      settings: TIGHT,
      fixture: aFixture({ elements: [{ ...ELEMENT, form: 'lever-clamp' }] }),
    };
    expect(checkOf(pushing, 'holds-without-supply')?.status).toBe('holds');
    const unsaid = checkOf(decoupled(null), 'holds-without-supply');
    expect(unsaid?.status).toBe('unproven');
    expect(unsaid?.missing.map(({ field }) => field)).toContain('temperatureRiseK');
  });

  it('the unclamp line of a pallet that leaves its supply is shut, whatever somebody has said of it', () => {
    const cannotBlock = { unclampLineCanBlock: false };
    const intensified = (facts: CircuitFacts) => checkOf(facts, 'highest-within-rating')?.stated?.demandPa;
    expect(intensified(decoupled(0, cannotBlock))).toBe(intensified(decoupled(0, { unclampLineCanBlock: true })));
  });
});
