import type { CircuitFacts, ComponentFacts, LineFunction } from '../src/circuit-facts/circuit-facts.types.js';
import { toPressureLadderInput } from '../src/circuit-facts/pressure-ladder-input.js';
import { toProofInput } from '../src/circuit-facts/prove-facts.js';
import { aCircuit, aControl, aFixture, aNeighbour, COMPONENTS, ELEMENT, READINGS, SUPPORT } from './facts-builder.js';
import { checkOf } from './facts-checks.js';
import { component } from './random-parts.js';

const BAR = 1e5;
const basis = aCircuit();
const beside = (part: ComponentFacts, change: Partial<CircuitFacts> = {}) =>
  aCircuit({ ...change, components: [...COMPONENTS, part] });
const missingOf = (facts: CircuitFacts, code: Parameters<typeof checkOf>[1]) =>
  checkOf(facts, code)?.missing.map(({ field }) => field);

it('a gauge of the tank line or the unclamp line is none that the setting is read on', () => {
  const target = { settings: { ...basis.settings, isAsLeft: false } };
  const errorOf = (facts: CircuitFacts) => toPressureLadderInput(facts).gaugeErrorPa;
  const gauge = (lines: LineFunction[]) =>
    component('gauge', 'circuit', lines, { ratedPressure: 250 * BAR, span: 400 * BAR, accuracyClass: 4 });
  const usual = errorOf(aCircuit(target));
  for (const lines of [['tank'], ['unclamp'], ['tank', 'unclamp']] as LineFunction[][])
    expect(errorOf(beside(gauge(lines), target))).toBe(usual);
  // One of the clamps' own way may be the one: 4 % of 400 bar.
  for (const lines of [['clamp'], ['supply'], []] as LineFunction[][])
    expect(errorOf(beside(gauge(lines), target))).toBeCloseTo(16 * BAR, 3);
});

it('a sequence valve that may stand before the supports as well locks none of them in time', () => {
  const fixture = aFixture({ elements: [{ ...SUPPORT, leastWorkingPressurePa: 40 * BAR }, ELEMENT] });
  const valve = (lines: LineFunction[]) =>
    component('sequence-valve', 'circuit', lines, {
      ...{ ratedPressure: 350 * BAR, openingPressure: 60 * BAR, leastWorkingPressure: 60 * BAR },
    });
  const statusOf = (lines: LineFunction[]) => checkOf(beside(valve(lines), { fixture }), 'order-and-speed')?.status;
  for (const lines of [
    ['supply', 'clamp'],
    ['clamp', 'unclamp'],
  ] as LineFunction[][])
    expect(statusOf(lines)).toBe('unproven');
  expect(statusOf(['clamp'])).not.toBe('unproven');
});

describe('another circuit of the station', () => {
  const stationId = 'station of circuit';
  const control = aControl();
  const ofOneStation = (change: Partial<CircuitFacts['neighbours'][number]>) =>
    aCircuit({
      neighbours: [aNeighbour(change)],
      control: { ...control, circuits: control.circuits.map((one) => ({ ...one, stationId })) },
    });

  it('fills its accumulator first', () => {
    const stored = component('accumulator', 'circuit', ['clamp'], { ratedPressure: 350 * BAR, size: 4e-3, prechargePressure: 90 * BAR }); // prettier-ignore
    const volumeOf = (facts: CircuitFacts) => Number(toProofInput(facts).actuation.movingFirst?.[0]?.volumeM3);
    const plain = aNeighbour();
    const filled = volumeOf(ofOneStation({ components: [...plain.components, stored] }));
    expect(filled - volumeOf(ofOneStation({}))).toBeCloseTo(4e-3, 9);
  });

  it('was there as it is now, as the times were read; else they may be longer', () => {
    const slow = { ...basis.settings, readings: { ...READINGS, oilTemperatureK: 283.15 } };
    const measuredOf = (isFixtureAsRead: boolean | null) =>
      toProofInput({ ...ofOneStation({ isFixtureAsRead }), settings: slow }).measured;
    expect(measuredOf(true)?.isSlowest).toBe(true);
    expect(measuredOf(false)).toMatchObject({ isSlowest: false, unclampColdS: null });
    expect(measuredOf(null)).toMatchObject({ isSlowest: false, unclampColdS: null });
  });
});

// Of VG 32 by ASTM D341, and p / (180 - p) of each as its viscosity: near the stall a little less as it was read is much less at work.
it('a pull that was read with cold oil is carried to warm oil at the lowest that its gauge allows', () => {
  const atLeast = (gaugeClass: number | null) => {
    const readings = {
      ...READINGS,
      ...{ lowestWhileSharedPa: 175 * BAR, oilTemperatureK: 283.15, gaugeSpanPa: 250 * BAR, gaugeClass },
    };
    const [shared] = toProofInput(aCircuit({ settings: { ...basis.settings, readings } })).sharedSupply.others;
    return shared?.atLeastPa;
  };
  const carried = (bar: number, thinning: number) => {
    const left = bar / (180 - bar) / thinning;
    return (180 * left) / (1 + left);
  };
  const exact = Number(atLeast(0)) / BAR;
  const left = exact / (180 - exact);
  const thinning = 175 / 5 / left;
  expect(thinning).toBeGreaterThan(4.5);
  expect(thinning).toBeLessThan(5.5);
  for (const ofClass of [1.6, 4]) {
    const error = 2.5 * ofClass;
    expect(Number(atLeast(ofClass)) / BAR).toBeCloseTo(carried(175 - error, thinning) + error, 6);
  }
  expect(atLeast(null)).toBeNull();
});

it('whether a check valve holds the clamps is asked where a pilot would have to open it', () => {
  const warm = { trappedTemperatureRiseK: 40, trappedNetExpansionPerK: 6e-4, trappedBulkModulusPa: 6e8 };
  const unsaid = aCircuit({ circuit: { ...basis.circuit, ...warm, canTrap: true, isCheckHeld: null } });
  expect(checkOf(unsaid, 'unclamping')?.status).toBe('unproven');
  expect(missingOf(unsaid, 'unclamping')).toContain('isCheckHeld');
});

it('a coupling of the power unit of which nobody has said the line may be that of the tank line, and blocks what comes back', () => {
  const coupling = (lines: LineFunction[]) => beside(component('quick-coupling', 'power-unit', lines, { ratedPressure: 350 * BAR })); // prettier-ignore
  for (const lines of [['tank'], []] as LineFunction[][])
    expect(checkOf(coupling(lines), 'highest-within-rating')).toMatchObject({
      ...{ status: 'fails', reason: 'intensified-above-rating' },
    });
  expect(checkOf(coupling(['supply']), 'highest-within-rating')?.status).toBe('holds');
});
