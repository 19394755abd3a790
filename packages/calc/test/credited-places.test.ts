import type { CircuitFacts, ComponentFacts, LineFunction } from '../src/circuit-facts/circuit-facts.types.js';
import { aCircuit, aFixture, COMPONENTS, ELEMENT } from './facts-builder.js';
import { checkOf } from './facts-checks.js';

/** What a component cannot do where it sits, whatever is said of it. Worked out by hand, from how such circuits are plumbed. */
describe('nothing is credited for', () => {
  const { circuit, powerUnit } = aCircuit();
  const check = (change: Partial<CircuitFacts>, code: Parameters<typeof checkOf>[1]) => checkOf(aCircuit(change), code);
  const change = (kind: ComponentFacts['kind'], more: Partial<ComponentFacts>) =>
    COMPONENTS.map((component) => (component.kind === kind ? { ...component, ...more } : component));
  const fitted = (
    kind: ComponentFacts['kind'],
    lineFunctions: LineFunction[],
    figures: object = {},
  ): ComponentFacts => ({
    ...{ id: `extra ${kind}`, name: `Extra ${kind}`, place: 'circuit', kind, lineFunctions, sensing: null },
    figures: { ratedPressure: 500e5, ...figures },
  });

  it.each([
    ['at the pump', { sensing: 'pump' }],
    ['at the pump, said to be in the clamp line', { sensing: 'pump', lineFunctions: ['clamp'] }],
    ['at the manifold of the supply', { sensing: 'manifold', lineFunctions: ['supply'] }],
    ['at the clamps of a line that is none of theirs', { sensing: 'clamp-line', lineFunctions: ['tank'] }],
  ] as const)('a switch %s: it is made whether anything is clamped or not', (_where, more) => {
    const components = change('pressure-switch', more);
    for (const code of ['holds-workpiece', 'clamping-time', 'interlock-sound'] as const) {
      expect([code, check({ components }, code)]).toMatchObject([
        code,
        { status: 'fails', reason: 'switch-senses-supply' },
      ]);
    }
  });

  it('a switch at the manifold whose line nobody has said: it is asked for', () => {
    const components = change('pressure-switch', { sensing: 'manifold', lineFunctions: [] });
    expect(check({ components }, 'holds-workpiece')?.status).toBe('unproven');
  });

  it('an electric pump that does not reach what is set', () => {
    const electric = (highestPressure: number) => ({
      powerUnit: { ...powerUnit, drive: 'electric' as const },
      components: COMPONENTS.map((component) =>
        component.kind === 'pump' ? { ...component, figures: { ...component.figures, highestPressure } } : component,
      ),
    });
    expect(check(electric(250e5), 'no-nuisance-stop')?.status).toBe('holds');
    expect(check(electric(120e5), 'no-nuisance-stop')?.status).toBe('fails');
  });

  it('a statement that the unclamp line cannot be blocked, where something in it shuts it or throttles what comes back', () => {
    // What pushes has its rod's side on the unclamp line.
    const fixture = aFixture({ elements: [{ ...ELEMENT, pulls: false }] });
    const cannotBlock = { ...circuit, unclampLineCanBlock: false };
    const reached = (extra: ComponentFacts[]) =>
      check({ circuit: cannotBlock, fixture, components: [...COMPONENTS, ...extra] }, 'highest-within-rating')?.stated
        ?.demandPa;
    const free = reached([]);
    const blocked = check({ circuit: { ...circuit, unclampLineCanBlock: true }, fixture }, 'highest-within-rating')
      ?.stated?.demandPa;
    expect(blocked).toBeGreaterThan(Number(free));
    for (const kind of ['quick-coupling', 'check-valve', 'flow-control-valve'] as const) {
      expect([kind, reached([fitted(kind, ['unclamp'])])]).toEqual([kind, blocked]);
    }
    // What comes back goes on through the tank line, which a check valve lets it into.
    expect(reached([fitted('quick-coupling', ['tank'])])).toBe(blocked);
    expect(reached([fitted('check-valve', ['tank'])])).toBe(free);
  });
});
