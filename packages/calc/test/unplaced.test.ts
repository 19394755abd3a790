import type {
  CircuitFacts,
  ComponentFacts,
  ComponentKind,
  LineFunction,
} from '../src/circuit-facts/circuit-facts.types.js';
import { toProofInput } from '../src/circuit-facts/prove-facts.js';
import { aCircuit, COMPONENTS } from './facts-builder.js';
import { checkOf } from './facts-checks.js';

const { circuit } = aCircuit();
const extra = (kind: ComponentKind, lineFunctions: LineFunction[], figures: object = {}): ComponentFacts => ({
  ...{ id: `extra ${kind}`, name: `Extra ${kind}`, place: 'circuit', kind, lineFunctions, sensing: null },
  figures: { ratedPressure: 400e5, ...figures },
});
const withExtra = (component: ComponentFacts, change: Partial<CircuitFacts> = {}): CircuitFacts =>
  aCircuit({ components: [...COMPONENTS, component], ...change });
const CODES = ['clamping-time', 'unclamping'] as const;
const HOSE = { innerDiameter: 0.006, length: 1, expansionModulus: 1.4e9 };

/** Of what nobody has said in which line it sits, the worst is taken, or it is asked. */
describe('a component in a line that nobody has said', () => {
  it('sees the most pressure of any line: a weak one fails the ratings', () => {
    const weak = (lines: LineFunction[]) => withExtra(extra('fitting', lines, { ratedPressure: 160e5 }));
    expect(checkOf(weak(['tank']), 'setting-within-rating')?.status).toBe('holds');
    for (const code of ['setting-within-rating', 'highest-within-rating']) {
      expect(checkOf(weak([]), code)).toMatchObject({ status: 'fails', subject: { name: 'Extra fitting' } });
    }
    for (const kind of ['relay', 'power-supply', 'pressure-regulator'] as const) {
      const ofNoOil = extra(kind, [], { ratedPressure: 10e5 });
      expect(checkOf(withExtra(ofNoOil), 'setting-within-rating')?.status).toBe('holds');
    }
  });

  it('is a hose whose burst lets the clamps go, and no check valve that keeps their oil', () => {
    const hose = extra('hose', [], { ...HOSE, burstFlow: 5e-4 });
    expect(checkOf(withExtra(hose), 'holds-workpiece')).toMatchObject({ status: 'fails', reason: 'burst-hose' });
    const ofSupply = COMPONENTS.filter(({ kind }) => kind !== 'hose').concat(extra('hose', ['supply'], HOSE));
    const burstWith = (lines: LineFunction[]) =>
      toProofInput(aCircuit({ components: [...ofSupply, extra('check-valve', lines)] })).pressureLadder.hold.burst;
    expect(burstWith(['clamp'])).toBeNull();
    expect(burstWith([])?.ref.name).toBe('Extra hose');
  });

  it('may shut the unclamp line, and may be a cylinder that acts both ways', () => {
    const blockable = (component: ComponentFacts) => toProofInput(withExtra(component)).pressureLadder;
    expect(circuit.unclampLineCanBlock).toBe(false);
    expect(blockable(extra('quick-coupling', [])).unclampLineCanBlock).toBe(true);
    expect(blockable(extra('quick-coupling', ['clamp'])).unclampLineCanBlock).toBe(false);
    const cylinder = blockable(extra('cylinder', [], { bore: 0.05, rod: 0.03 }));
    expect(cylinder.blockedSides?.filter(({ ref }) => ref?.name === 'Extra cylinder')).toHaveLength(2);
  });

  it.each(['hose', 'fitting', 'flow-control-valve', 'sequence-valve', 'manifold', 'cylinder'] as const)(
    'is asked for where times go by it: a %s',
    (kind) => {
      const facts = withExtra(extra(kind, []));
      const untimed = { ...facts, settings: { ...facts.settings, readings: null } };
      for (const code of CODES) {
        const check = checkOf(untimed, code);
        expect(check?.status).toBe('unproven');
        const fields = check?.missing.map(({ field }) => field) ?? [];
        expect(['lineFunctions', 'timeToSwitchS', 'timeColdS'].some((field) => fields.includes(field))).toBe(true);
      }
    },
  );

  it('holds oil that the reservoir has to give', () => {
    const demand = (lines: LineFunction[]) =>
      checkOf(withExtra(extra('hose', lines, { ...HOSE, length: 20 })), 'reservoir')?.numbers?.stated?.demand;
    expect(demand([])).toBe(demand(['clamp']));
    expect(demand([])).toBeGreaterThan(Number(demand(['tank'])));
  });
});
