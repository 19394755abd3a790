import { actuate } from '../src/circuit-checks/actuation.js';
import { toMovementInput } from '../src/circuit-facts/movement-input.js';
import type { CircuitFacts, ComponentFacts, LineFunction } from '../src/circuit-facts/circuit-facts.types.js';
import { findWayOut } from '../src/way-out/find-way-out.js';
import { listMends } from '../src/way-out/mends.js';
import { aCircuit, aFixture, COMPONENTS, ELEMENT, READINGS } from './facts-builder.js';
import { checkOf, part } from './facts-checks.js';

const { settings } = aCircuit();
const READ = { ...READINGS, clampTimeS: null, contactTimeS: null, unclampTimeS: null };
const held = (fromCylinders: number, toCylinders = 1e-5) =>
  part('flow-control-valve', ['clamp'], { flowToCylinders: toCylinders, flowFromCylinders: fromCylinders });
const withParts = (more: ComponentFacts[], change: Partial<CircuitFacts> = {}): CircuitFacts =>
  aCircuit({ components: [...COMPONENTS, ...more], settings: { ...settings, readings: READ }, ...change });
const flowsOf = (facts: CircuitFacts) => actuate(toMovementInput(facts).actuation).returnFlowsM3PerS?.[0] ?? Number.NaN;
const flowPair = (facts: CircuitFacts) =>
  checkOf(facts, 'order-and-speed')?.pairs?.find(({ reason }) => reason === 'flow-too-high-unclamping');
const limited = (highestFlowM3PerS: number) => aFixture({ elements: [{ ...ELEMENT, highestFlowM3PerS }] });

describe('a swing clamp that opens', () => {
  it('lets out what a flow control of its clamp line lets through, shared among four: by hand', () => {
    expect(flowsOf(withParts([held(8e-6)])) / (8e-6 / 4)).toBeCloseTo(1, 3);
  });

  it('goes no faster than the pump fills its piston sides: free flow x annulus over piston, shared among four', () => {
    const most = ((3.2 / 60_000 / 4) * (0.025 ** 2 - 0.016 ** 2)) / 0.025 ** 2;
    const flow = flowsOf(withParts([]));
    expect(flow).toBeLessThan(most);
    expect(flow).toBeGreaterThan(0.7 * most);
  });

  it('above its highest flow fails although it closes slowly, and not where it is throttled both ways', () => {
    // Into four of them 10 cm3/s, each 2.5; back without a throttle more than 5 each.
    const oneWay = withParts([held(1e-3)], { fixture: limited(4e-6) });
    expect(checkOf(oneWay, 'order-and-speed')).toMatchObject({ status: 'fails', reason: 'flow-too-high-unclamping' });
    expect(checkOf(oneWay, 'order-and-speed')?.numbers?.stated?.demand).toBeCloseTo(flowsOf(oneWay), 9);
    const bothWays = withParts([held(1e-5)], { fixture: limited(4e-6) });
    expect(flowPair(bothWays)).toBeUndefined();
    expect(checkOf(bothWays, 'order-and-speed')?.status).toBe('holds');
    const unsaid = withParts([held(1e-3)], { powerUnit: { ...aCircuit().powerUnit, oilDensityKgPerM3: null } });
    expect(checkOf(unsaid, 'order-and-speed')).toMatchObject({ status: 'unproven' });
  });

  it('that a spring opens lets out what the spring pushes: first the whole of it, with the coldest oil or warm', () => {
    const sprung = { ...ELEMENT, acting: 'single' as const, springForceN: 900, springForceAtContactN: 1000 };
    const fixture = aFixture({ elements: [{ ...sprung, quantity: 1 }] });
    const facts = withParts([], { fixture, circuit: { ...aCircuit().circuit, returnPressurePa: 0 } });
    // Without loss in the line: (spring - friction) / viscous friction x annulus.
    const most = ((900 - 80) / 400) * (Math.PI / 4) * (0.025 ** 2 - 0.016 ** 2);
    expect(flowsOf(facts)).toBeLessThan(most);
    expect(flowsOf(facts)).toBeGreaterThan(0.2 * most);
  });

  it('is shown a way out: the flow back through its control', () => {
    const out = findWayOut(withParts([held(4e-5)], { fixture: limited(4e-6) }));
    expect(out).not.toBeNull();
    const codes = JSON.stringify(out);
    expect(codes).toContain('throttle-return');
  });
});

it('only what stands in the way back of the oil is throttled for it: in the clamp line or the tank line', () => {
  const pair = {
    code: 'order-and-speed',
    reason: 'flow-too-high-unclamping',
    subject: null,
    governing: undefined,
  } as const;
  const codesOf = (lines: LineFunction[]) => {
    const control = part('flow-control-valve', lines, { flowToCylinders: 1e-4, flowFromCylinders: 4e-5 });
    return listMends(withParts([control]), pair).map(({ code }) => code);
  };
  expect(codesOf(['clamp'])).toEqual(['throttle-return']);
  expect(codesOf(['tank'])).toEqual(['throttle-return']);
  for (const elsewhere of [['supply'], ['unclamp']] as LineFunction[][]) expect(codesOf(elsewhere)).toEqual([]);
});

describe('a check valve in the clamp line of clamps that springs push back', () => {
  const levers = aFixture({
    elements: [{ ...ELEMENT, form: 'lever-clamp', acting: 'single', springForceN: 300, springForceAtContactN: 420 }],
  });
  const single = COMPONENTS.filter(({ lineFunctions }) => !lineFunctions.includes('unclamp'));
  const valve = COMPONENTS.find(({ kind }) => kind === 'directional-valve');
  const threeWay = { ...(valve as ComponentFacts), lineFunctions: ['supply', 'tank', 'clamp'] as const };
  const shut = (lineFunctions: LineFunction[], components = [...single, threeWay]): CircuitFacts =>
    aCircuit({
      fixture: levers,
      settings: { ...settings, readings: READ },
      components: [...components, part('check-valve', lineFunctions, {})],
    });

  it('lets no oil back with nothing in an unclamp line that opens it', () => {
    const check = checkOf(shut(['clamp']), 'unclamping');
    expect(check).toMatchObject({ status: 'fails', reason: 'check-valve-stays-shut' });
    expect(check?.subject?.name).toBe('Extra check-valve');
  });

  it('is asked for where it is only said that one holds the clamps', () => {
    const { circuit } = aCircuit();
    const facts = (isCheckHeld: boolean, components: readonly ComponentFacts[]): CircuitFacts => ({
      ...shut([]),
      ...{
        circuit: { ...circuit, isCheckHeld, trappedTemperatureRiseK: 0 },
        components: [...single, threeWay, ...components],
      },
    });
    expect(checkOf(facts(false, []), 'unclamping')?.status).toBe('holds');
    expect(checkOf(facts(true, []), 'unclamping')).toMatchObject({
      ...{ status: 'unproven', reason: 'missing', missing: [{ field: 'checkValveLine', ref: null }] },
    });
    expect(checkOf(facts(true, [part('check-valve', ['supply'], {})]), 'unclamping')?.status).toBe('holds');
    // Whoever read how long it takes to open saw it open.
    const seen = { ...facts(true, []), settings: { ...settings, readings: READINGS } };
    expect(checkOf(seen, 'unclamping')?.missing).not.toContainEqual({ field: 'checkValveLine', ref: null });
  });

  it('is opened by the unclamp line where there is one, and shuts nothing before the directional valve', () => {
    expect(checkOf(shut(['supply']), 'unclamping')?.reason).not.toBe('check-valve-stays-shut');
    expect(checkOf(shut(['clamp'], [...COMPONENTS]), 'unclamping')?.reason).not.toBe('check-valve-stays-shut');
    const doubles = { ...shut(['clamp']), fixture: aFixture() };
    expect(checkOf(doubles, 'unclamping')?.reason).not.toBe('check-valve-stays-shut');
  });
});

describe('the time to the switch', () => {
  const withDelay = (delay: number | null, readings: Partial<typeof READINGS> = READ) =>
    checkOf(
      aCircuit({
        settings: { ...settings, readings: { ...READ, ...readings } },
        components: COMPONENTS.map((component) => {
          if (component.kind !== 'pressure-switch') return component;
          const { delay: _, ...figures } = component.figures;
          return { ...component, figures: delay === null ? figures : { ...figures, delay } };
        }),
      }),
      'clamping-time',
    );
  const demandOf = (check: ReturnType<typeof withDelay>) => Number(check?.numbers?.nominal?.demand);

  it('has the delay with which it tells; nobody knows it without that', () => {
    expect(demandOf(withDelay(0.5)) - demandOf(withDelay(0))).toBeCloseTo(0.5, 9);
    expect(withDelay(3)).toMatchObject({ status: 'fails', reason: 'clamps-too-slowly' });
    expect(withDelay(null)).toMatchObject({ status: 'unproven', missing: [{ field: 'switchDelayS' }] });
  });

  it('as it was read has it already, whichever it is', () => {
    const slow = { clampTimeS: 2.5, timeToleranceS: 0.1, oilTemperatureK: 308.15 };
    expect(demandOf(withDelay(0.5, slow))).toBe(2.5);
    expect(withDelay(0.5, slow)?.status).toBe('holds');
    expect(withDelay(null, slow)).toMatchObject({ status: 'unproven', missing: [{ field: 'switchDelayS' }] });
  });
});
