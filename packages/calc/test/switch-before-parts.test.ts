import type { CircuitFacts, ComponentFacts } from '../src/circuit-facts/circuit-facts.types.js';
import { toPressureLadderInput } from '../src/circuit-facts/pressure-ladder-input.js';
import { pressureLadder } from '../src/pressure-ladder/pressure-ladder.js';
import { aCircuit, COMPONENTS } from './facts-builder.js';
import { checkOf } from './facts-checks.js';
import { component } from './random-parts.js';

const basis = aCircuit();
const COUPLING = component('quick-coupling', 'circuit', ['clamp'], { ratedPressure: 300e5 });
const REDUCING = component('reducing-valve', 'circuit', ['clamp'], { ratedPressure: 300e5 });
type Place = Pick<ComponentFacts, 'sensing' | 'lineFunctions' | 'isBeyondShutOff'>;

/** What check 1 makes of a switch that is said to sit somewhere, or of one of which nobody says on which side. */
function statusOf(
  place: Partial<Place>,
  parts: readonly ComponentFacts[],
  change: Partial<CircuitFacts['circuit']> = {},
) {
  const components = COMPONENTS.map((part) => {
    if (part.kind !== 'pressure-switch') return part;
    const { isBeyondShutOff: _side, ...placed } = part;
    return { ...placed, ...place };
  });
  const facts = aCircuit({ components: [...components, ...parts], circuit: { ...basis.circuit, ...change } });
  return checkOf(facts, 'holds-workpiece')?.status;
}

/** What stands in the clamp line keeps what is before it apart from what the clamps have: nobody trusts a switch before it. */
describe('a switch of the clamp line', () => {
  it.each([
    ['a coupling', [COUPLING], {}],
    ['a reducing valve', [REDUCING], { hasReducingValve: true, reducingValveRelieves: true }],
    ['a pallet that is at times without supply', [], { isDecoupled: true, trappedTemperatureRiseK: 0 }],
  ] as const)(
    'with %s senses the clamps where it is said to be beyond, not before, and is asked where nobody says',
    (_what, parts, change) => {
      for (const sensing of ['clamp-line', 'manifold'] as const) {
        expect(statusOf({ sensing, isBeyondShutOff: true }, parts, change)).not.toBe('fails');
        expect(statusOf({ sensing, isBeyondShutOff: false }, parts, change)).toBe('fails');
        expect(statusOf({ sensing }, parts, change)).toBe('unproven');
      }
    },
  );

  it('senses them where nothing stands between, unless it is said to be in another line as well', () => {
    expect(statusOf({}, [])).toBe('holds');
    expect(statusOf({ sensing: 'manifold' }, [])).toBe('holds');
    expect(statusOf({ sensing: 'manifold', lineFunctions: ['supply', 'clamp'] }, [])).toBe('unproven');
    expect(statusOf({ sensing: null, lineFunctions: ['supply', 'clamp'] }, [])).toBe('unproven');
  });
});

it('a record of which nobody has said what holds back a blocked line has it held by what relieves its oil', () => {
  const relief = component('relief-valve', 'circuit', ['clamp'], { openingPressure: 190e5, fullFlowPressure: 205e5 });
  const facts = aCircuit({
    components: [...COMPONENTS.filter(({ kind }) => kind !== 'relief-valve'), relief, COUPLING],
  });
  const input = toPressureLadderInput(facts);
  const former = (input.reliefs ?? []).map(({ relievesBlockedLine: _line, ...one }) => one);
  const highestOf = (made: typeof input) =>
    pressureLadder(made).checks.find(({ code }) => code === 'highest-within-rating');
  expect(highestOf(input)).toMatchObject({ status: 'fails', governing: 'intensified' });
  expect(highestOf({ ...input, reliefs: former })?.governing).not.toBe('intensified');
});
