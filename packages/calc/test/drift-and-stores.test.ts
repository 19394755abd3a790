import type {
  CircuitFacts,
  ComponentFacts,
  ComponentKind,
  LineFunction,
} from '../src/circuit-facts/circuit-facts.types.js';
import { toProofInput } from '../src/circuit-facts/prove-facts.js';
import { aCircuit, COMPONENTS } from './facts-builder.js';
import { checkOf, withFigures, without } from './facts-checks.js';

const extra = (
  kind: ComponentKind,
  figures: Record<string, number>,
  lines: LineFunction[] = ['clamp'],
): ComponentFacts => ({
  ...{ id: `extra ${kind}`, name: `Extra ${kind}`, place: 'circuit', kind, lineFunctions: lines, sensing: null },
  figures: { ratedPressure: 400e5, ...figures },
});
const withExtra = (component: ComponentFacts, change: Partial<CircuitFacts> = {}): CircuitFacts =>
  aCircuit({ components: [...COMPONENTS, component], ...change });

describe("a switch's own deadband", () => {
  it('lets it drop out no nearer to where it makes: 150 − 30 − 2 bar against 118 and what leaks', () => {
    const stated = (deadband: number) =>
      checkOf(aCircuit({ components: withFigures('pressure-switch', { deadband }) }), 'holds-workpiece');
    // 142 bar was read: a deadband within 8 bar says nothing more.
    expect(stated(8e5)).toEqual(checkOf(aCircuit(), 'holds-workpiece'));
    expect(stated(20e5)?.stated?.capacityPa).toBe(128e5);
    expect(stated(33e5)?.status).toBe('fails');
  });
});

describe('the drift of what makes the setting', () => {
  const toleranceOf = (facts: CircuitFacts) => toProofInput(facts).pressureLadder.settingHalfWidthPa;
  const typed = 4e5;

  it('of a reducing valve is the least tolerance of the setting', () => {
    expect(toleranceOf(withExtra(extra('reducing-valve', { drift: 3e5 })))).toBe(typed);
    expect(toleranceOf(withExtra(extra('reducing-valve', { drift: 7e5 })))).toBe(7e5);
    // 175 + 36 against 210 bar.
    const wide = withExtra(extra('reducing-valve', { drift: 36e5 }));
    expect(checkOf(wide, 'setting-within-rating')).toMatchObject({ status: 'fails', reason: 'above-rating' });
  });

  it('of an air regulator comes to as much more as the pump multiplies it by, and is not known without that', () => {
    const regulator = extra('pressure-regulator', { drift: 0.2e5 }, []);
    expect(toleranceOf(withExtra(regulator))).toBe(40 * 0.2e5);
    const electric = { powerUnit: { ...aCircuit().powerUnit, drive: 'electric' as const } };
    expect(toleranceOf(withExtra(regulator, electric))).toBe(typed);
    expect(toleranceOf(aCircuit({ components: [...without('pump'), regulator] }))).toBeNull();
  });
});

describe('an accumulator', () => {
  const figures = { size: 1e-4, prechargePressure: 90e5 };
  const demand = (facts: CircuitFacts) => checkOf(facts, 'reservoir')?.numbers?.stated?.demand ?? null;

  it('gives no oil below the pressure of its gas: what was read holds down to that and no further', () => {
    expect(checkOf(withExtra(extra('accumulator', figures)), 'holds-workpiece')?.status).toBe('holds');
    const high = withExtra(extra('accumulator', { ...figures, prechargePressure: 145e5 }));
    expect(checkOf(high, 'holds-workpiece')).toMatchObject({ status: 'fails', subject: { name: 'Extra accumulator' } });
    const unknown = checkOf(withExtra(extra('accumulator', { size: 1e-4 })), 'holds-workpiece');
    expect(unknown?.missing).toMatchObject([{ field: 'leastWorkingPressurePa', ref: { name: 'Extra accumulator' } }]);
  });

  it('takes oil while the clamps move: times with it are read, not computed', () => {
    const facts = withExtra(extra('accumulator', figures));
    expect(checkOf(facts, 'clamping-time')?.status).toBe('holds');
    const unread = { ...facts, settings: { ...facts.settings, readings: null } };
    for (const code of ['clamping-time', 'unclamping']) {
      const check = checkOf(unread, code);
      expect(check?.status).toBe('unproven');
      expect(check?.missing).toContainEqual(expect.objectContaining({ field: 'timeWithAccumulator' }));
    }
  });

  it('may be filled from the reservoir, and emptied into it', () => {
    expect(demand(withExtra(extra('accumulator', figures)))).toBeCloseTo(Number(demand(aCircuit())) + 1e-4, 12);
    expect(demand(withExtra(extra('accumulator', { prechargePressure: 90e5 })))).toBeNull();
  });
});
