import type {
  CircuitFacts,
  ComponentFacts,
  ComponentKind,
  LineFunction,
} from '../src/circuit-facts/circuit-facts.types.js';
import { toProofInput } from '../src/circuit-facts/prove-facts.js';
import { pressureLadder } from '../src/pressure-ladder/pressure-ladder.js';
import { aCircuit, aFixture, COMPONENTS } from './facts-builder.js';
import { checkOf } from './facts-checks.js';

const { circuit, powerUnit } = aCircuit();
/** 160 ± 4 bar that warm by 40 K: 240 bar more. */
const SHUT_IN = {
  ...{ ...circuit, canTrap: true, isCheckHeld: true, trappedTemperatureRiseK: 40 },
  ...{ trappedNetExpansionPerK: 6e-4, trappedBulkModulusPa: 1e9, unclampBulkModulusPa: 1e9 },
};
const part = (
  kind: ComponentKind,
  id: string,
  lineFunctions: LineFunction[],
  figures: object = {},
): ComponentFacts => ({
  ...{ id, name: id, place: 'circuit', kind, lineFunctions, sensing: null },
  figures: { ratedPressure: 400e5, ...figures },
});
const relief = (id: string, lines: LineFunction[], at = [185e5, 200e5], isBeyondShutOff?: boolean | null) => ({
  ...part('relief-valve', id, lines, { openingPressure: at[0], fullFlowPressure: at[1] }),
  ...(isBeyondShutOff === undefined ? {} : { isBeyondShutOff }),
});
const REST = COMPONENTS.filter(({ kind }) => kind !== 'relief-valve');
const withParts = (parts: ComponentFacts[], change: Partial<CircuitFacts> = {}): CircuitFacts =>
  aCircuit({ components: [...REST, ...parts], ...change });
const highest = (facts: CircuitFacts) => checkOf(facts, 'highest-within-rating');

describe('a relief in the clamp line', () => {
  const held = (parts: ComponentFacts[], change: Partial<CircuitFacts['circuit']> = {}) =>
    highest(withParts(parts, { circuit: { ...SHUT_IN, ...change }, fixture: aFixture({ ratedPressurePa: 240e5 }) }));
  const CHECK = part('check-valve', 'check', ['clamp']);

  it.each([
    ['nobody has said on which side', null],
    ['it is on the side of the valve', false],
  ])('beside a check valve in that line relieves nothing that this shuts in: %s', (_what, isBeyond) => {
    expect(held([CHECK, relief('R', ['clamp'], undefined, isBeyond)])).toMatchObject({
      status: 'fails',
      reason: 'trapped-oil-above-rating',
    });
  });

  it('that is said to sit between the check valve and the clamps relieves it', () => {
    expect(held([CHECK, relief('R', ['clamp'], undefined, true)])?.status).toBe('holds');
  });

  it('relieves what a check valve of the supply line shuts in, unless it is said not to', () => {
    const ofSupply = part('check-valve', 'check', ['supply']);
    expect(held([ofSupply, relief('R', ['clamp'])])?.status).toBe('holds');
    expect(held([ofSupply, relief('R', ['clamp'], undefined, false)])?.status).toBe('fails');
    // Held by check valves that nobody has fitted on record, or where nobody has said: they may be in the clamp line.
    expect(held([relief('R', ['clamp'])])?.status).toBe('fails');
    expect(held([part('check-valve', 'check', []), relief('R', ['clamp'])])?.status).not.toBe('holds');
  });

  it('stays at the machine when a pallet is decoupled, unless it is said to sit beyond', () => {
    // The unclamp line, which it does not reach, gives way to what warms up in it.
    const decoupled = { isDecoupled: true, isCheckHeld: false, unclampBulkModulusPa: 1e8 };
    expect(held([relief('R', ['clamp'])], decoupled)?.status).toBe('fails');
    expect(held([relief('R', ['clamp'], undefined, true)], decoupled)?.status).toBe('holds');
    expect(held([relief('R', ['clamp'], undefined, true)], { ...decoupled, unclampBulkModulusPa: 1e9 })).toMatchObject({
      ...{ status: 'fails', governing: 'trapped-oil' },
    });
  });
});

describe('several reliefs', () => {
  const HIGH_AIR = { powerUnit: { ...powerUnit, plantAirHighPa: 7e5 } };

  it('bound the source by the lowest at full flow that it reaches', () => {
    for (const parts of [
      [relief('low', ['supply']), relief('high', ['supply'], [250e5, 260e5])],
      [relief('high', ['supply'], [250e5, 260e5]), relief('low', ['supply'])],
    ]) {
      expect(highest(withParts(parts, HIGH_AIR))?.status).toBe('holds');
      expect(pressureLadder(toProofInput(withParts(parts, HIGH_AIR)).pressureLadder).rungs).toContainEqual(
        expect.objectContaining({ code: 'highest-possible', pressurePa: 200e5 }),
      );
    }
    const unknown = { ...relief('first', ['supply']), figures: { ratedPressure: 400e5, openingPressure: 185e5 } };
    expect(highest(withParts([unknown, relief('low', ['supply'])], HIGH_AIR))?.status).toBe('holds');
    expect(highest(withParts([unknown], HIGH_AIR))?.status).toBe('unproven');
  });

  it('each open above the setting, whichever comes first', () => {
    for (const lines of [['supply'], ['clamp'], []] as LineFunction[][]) {
      const check = highest(withParts([relief('high', ['supply']), relief('low', lines, [150e5, 160e5])]));
      expect(check).toMatchObject({ status: 'fails', reason: 'relief-opens-below-setting', subject: { name: 'low' } });
    }
    const inTank = relief('low', ['tank'], [150e5, 160e5]);
    expect(highest(withParts([relief('high', ['supply']), inTank]))?.status).toBe('holds');
  });

  it('hold back what they are reached by alone: one of the clamp line nothing before the valve', () => {
    const weak = part('fitting', 'weak', ['supply'], { ratedPressure: 210e5 });
    const strongFixture = { ...HIGH_AIR, fixture: aFixture({ ratedPressurePa: 400e5 }) };
    expect(highest(withParts([relief('R', ['clamp']), weak], strongFixture))).toMatchObject({
      status: 'fails',
      reason: 'source-above-rating',
      subject: { name: 'weak' },
    });
    const strong = withParts([relief('R', ['clamp'])], HIGH_AIR).components.map((one) =>
      one.lineFunctions.includes('supply') || one.lineFunctions.includes('unclamp')
        ? { ...one, figures: { ...one.figures, ratedPressure: 400e5, ...(one.kind === 'gauge' ? { span: 400e5 } : {}) } } // prettier-ignore
        : one,
    );
    const single = aFixture({ ratedPressurePa: 210e5, elements: [] });
    expect(highest(aCircuit({ ...HIGH_AIR, components: strong, fixture: single }))?.status).toBe('fails');
    expect(highest(aCircuit({ ...HIGH_AIR, components: strong, fixture: aFixture({ ratedPressurePa: 300e5, elements: [] }) }))?.status).toBe('holds'); // prettier-ignore
  });
});
