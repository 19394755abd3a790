import { toLoadAndCapacity, type SupportInput } from '../src/circuit-checks/support-load.js';
import type { CircuitFacts, OperationFacts, SupportLoadFacts } from '../src/circuit-facts/circuit-facts.types.js';
import { proveFacts } from '../src/circuit-facts/prove-facts.js';
import { SETTINGS, READINGS, aCircuit, aFixture, aSupport } from './facts-builder.js';

const basis = aCircuit();
const [CUT] = basis.operations as [OperationFacts];
const load = (change: Partial<SupportLoadFacts> = {}): SupportLoadFacts => ({
  elementId: 'support',
  loadN: 1000,
  atPressurePa: 118e5,
  loadPerPaN: 1e-4,
  ...change,
});
/** One clamp over one support, at 171 to 179 bar. */
const withSupport = (operations: readonly Partial<OperationFacts>[], support = {}): CircuitFacts =>
  aCircuit({
    fixture: aFixture({ elements: [aSupport({ leastWorkingPressurePa: 1e5, ...support }), ...aFixture().elements] }),
    operations: operations.map((change) => ({ ...CUT, ...change })),
  });
const checkOf = (facts: CircuitFacts, code: string) => {
  const check = proveFacts(facts).checks.find((one) => one.code === code);
  if (check === undefined) throw new Error(`no check ${code}`);
  return check;
};
const order = (facts: CircuitFacts) => {
  const { status, reason, pairs = [], missing } = checkOf(facts, 'order-and-speed');
  const support = pairs.filter(({ subject }) => subject?.name.includes('Support'));
  return { status, reason, missing: missing.map(({ field }) => field), support: support.map((pair) => pair.status) };
};

describe('an operation that no pressure holds', () => {
  const unheld = { requiredPressurePa: null, requiredBasis: 'computed', unheldCase: 'clamped/2' } as const;

  it('fails, and says in which load case; that nothing is known of its pressure does not hide it', () => {
    const facts = aCircuit({ operations: [CUT, { ...CUT, id: 'b', number: 20, ...unheld }] });
    expect(checkOf(facts, 'holds-workpiece')).toMatchObject({
      status: 'fails',
      reason: 'no-pressure-holds',
      subject: { id: 'b', name: '20 Rough face' },
      loadCase: 'clamped/2',
      stated: null,
      probability: null,
      missing: [],
    });
    const { status, window } = proveFacts(facts);
    expect({ status, exists: window.exists, lowPa: window.lowPa }).toEqual({
      status: 'fails',
      exists: false,
      lowPa: null,
    });
    // Without the computation nobody knows, as before.
    const { unheldCase: _case, ...unknown } = unheld;
    expect(checkOf(aCircuit({ operations: [{ ...CUT, ...unknown }] }), 'holds-workpiece').status).toBe('unproven');
  });

  it('the first of several is told', () => {
    const facts = aCircuit({ operations: ['1/in', '2/out'].map((unheldCase) => ({ ...CUT, ...unheld, unheldCase })) });
    expect(checkOf(facts, 'holds-workpiece').loadCase).toBe('1/in');
  });
});

describe('a locator that bears no more than a force', () => {
  const limited = (locatorLimitPa: number | null, change: Partial<OperationFacts> = {}) =>
    aCircuit({
      operations: [{ ...CUT, requiredBasis: 'computed', locatorLimitPa, limitingLocator: 'Side pin', ...change }],
    });

  it('bears more than that where the circuit is set higher, whatever the workpiece allows', () => {
    // 175 bar with a tolerance of 4 bar, and a margin of 2 %.
    const over = checkOf(limited(178e5), 'workpiece-limit');
    expect(over).toMatchObject({ status: 'fails', reason: 'locator-overloaded', source: 'holding-force' });
    expect(over?.subject?.name).toContain('Side pin');
    expect(over?.stated).toMatchObject({ demandPa: 179e5, capacityPa: 178e5 });
    expect(checkOf(limited(200e5), 'workpiece-limit')?.status).toBe('holds');
    const stricter = limited(200e5, { workpieceNotLimiting: false, workpieceLimitPa: 190e5 });
    expect(checkOf(stricter, 'workpiece-limit')?.stated?.capacityPa).toBe(190e5);
    expect(proveFacts(limited(200e5)).rungs.find(({ code }) => code === 'workpiece-limit')).toMatchObject({
      pressurePa: 200e5,
      basis: 'holding-force',
    });
  });

  it('is not proven where nobody knows from which pressure on, and not looked at where none has a limit', () => {
    const check = checkOf(limited(null), 'workpiece-limit');
    expect(check).toMatchObject({ status: 'unproven', missing: [{ field: 'locatorLimitPa' }] });
    // Computed before it was asked: which of them nobody knows either.
    const { limitingLocator: _, ...former } = limited(null).operations[0] as OperationFacts;
    expect(checkOf(aCircuit({ operations: [former] }), 'workpiece-limit')).toMatchObject({
      status: 'unproven',
      missing: [{ field: 'locatorLimitPa', ref: { name: '10 Rough face' } }],
    });
    expect(checkOf(aCircuit({ operations: [CUT] }), 'workpiece-limit')?.status).toBe('not-applicable');
  });
});

describe('how much more may be required', () => {
  const holding = (change: Partial<OperationFacts>) =>
    checkOf(aCircuit({ operations: [{ ...CUT, requiredBasis: 'computed', ...change }] }), 'holds-workpiece');

  it('is an error beside those of switch and gauge: the check holds with the stated tolerances, and too seldom', () => {
    const before = holding({});
    expect(before).toMatchObject({ status: 'holds', probability: 1 });
    const little = holding({ specificForceSpreadPa: 5e5, frictionSpreadPa: 0 });
    expect(little.status).toBe('holds');
    const wide = holding({ specificForceSpreadPa: 30e5, frictionSpreadPa: 30e5 });
    expect(wide).toMatchObject({ status: 'fails', reason: 'probability-too-low', stated: before.stated });
    expect(Number(wide.probability)).toBeLessThan(0.95);
    expect(Number(wide.probability)).toBeGreaterThan(0.5);
  });

  it('is not proven where nobody knows it, and the widest of several counts', () => {
    const unknown = holding({ specificForceSpreadPa: null, frictionSpreadPa: 1e5 });
    expect(unknown).toMatchObject({ status: 'unproven', probability: null });
    expect(unknown.missing.map(({ field }) => field)).toEqual(['requiredSpreadPa']);
    const spreads = [30e5, 1e5].map((pa) => ({ ...CUT, specificForceSpreadPa: pa, frictionSpreadPa: pa }));
    const orders = [spreads, spreads.toReversed()].map((operations) =>
      checkOf(aCircuit({ operations }), 'holds-workpiece'),
    );
    expect(orders.map(({ reason }) => reason)).toEqual(['probability-too-low', 'probability-too-low']);
  });
});

describe('what supports bear', () => {
  it('is what was computed; what was typed counts only where nothing is computed', () => {
    // It locks soon enough, by its pressure and as it moves with warm oil, with cold and where least is lost; and it bears what it must.
    const inOrder = ['holds', 'holds', 'holds', 'holds'];
    expect(order(withSupport([{}])).support).toEqual([...inOrder, 'holds']);
    // At the lowest pressure and at the highest.
    expect(order(withSupport([{ supportLoads: [load()] }])).support).toEqual([...inOrder, 'holds', 'holds']);
    const heavy = withSupport([{ supportLoads: [load({ loadN: 9000 })] }]);
    expect(order(heavy)).toMatchObject({ status: 'fails', reason: 'support-overloaded' });
    // Typed too heavy, computed light: what was computed counts.
    expect(order(withSupport([{ supportLoads: [load()] }], { highestLoadN: 1e5 })).status).toBe('holds');
    expect(order(withSupport([{}], { highestLoadN: 1e5 })).status).toBe('fails');
    // One operation is not computed: what was typed counts beside.
    const beside = [{ supportLoads: [load()] }, {}];
    expect(order(withSupport(beside)).status).toBe('holds');
    expect(order(withSupport(beside, { highestLoadN: 1e5 })).status).toBe('fails');
    expect(order(withSupport(beside, { highestLoadN: null }))).toMatchObject({
      status: 'unproven',
      missing: ['loadN'],
    });
    expect(order(withSupport([{ supportLoads: [load({ loadN: null })] }])).status).toBe('unproven');
    expect(order(withSupport([{ supportLoads: [load({ loadPerPaN: null })] }])).status).toBe('unproven');
  });

  it('grows with the pressure of the clamps above the one that it was computed at', () => {
    // At 179 bar: 1000 N and 61 bar times a newton per kilopascal.
    const steep = order(withSupport([{ supportLoads: [load({ loadPerPaN: 1e-3 })] }]));
    expect(steep).toMatchObject({ status: 'fails', reason: 'support-overloaded' });
    expect(order(withSupport([{ supportLoads: [load({ loadPerPaN: 1e-3, atPressurePa: 175e5 })] }])).status).toBe(
      'holds',
    );
  });

  it('is carried in proportion to the pressure, and not at all below the one at which the support locks', () => {
    // Down to 138 bar of 250, where the switch stops the machine, it carries 55 % of 7000 N; at the lowest of the setting it would be 68 %.
    expect(order(withSupport([{}], { highestLoadN: 4000 })).status).toBe('fails');
    expect(order(withSupport([{}], { highestLoadN: 3400 })).status).toBe('holds');
    const set = { inUse: { ...SETTINGS, settingPa: 176e5 }, isAsLeft: true, readings: READINGS };
    const late = { ...withSupport([{}], { leastWorkingPressurePa: 173e5, highestLoadN: 1 }), settings: set };
    const overloaded = checkOf(late, 'order-and-speed').pairs?.filter(({ reason }) => reason === 'support-overloaded');
    expect(overloaded).toHaveLength(1);
  });

  it('is as before where nothing of it was reckoned with', () => {
    const support: SupportInput = {
      ref: { entity: 'fixture', id: 's', name: 's' },
      ...{ lockPressurePa: 100e5, highestLoadN: 10, ratedLoadN: 100, ratedPressurePa: 200e5 },
    };
    const at = { lowestPa: 50e5, highestPa: 150e5 };
    expect(toLoadAndCapacity({ support, ...at, isLockReckoned: false })).toEqual({ loadN: 10, capacityN: 25 });
    expect(toLoadAndCapacity({ support, ...at, isLockReckoned: true })).toEqual({ loadN: 10, capacityN: 0 });
    const unknown = { ...support, lockPressurePa: null, ratedPressurePa: 0, loads: [load()] };
    expect(toLoadAndCapacity({ support: unknown, lowestPa: null, highestPa: 218e5, isLockReckoned: true })).toEqual({
      ...{ loadN: null, capacityN: null },
      atHighest: { loadN: 2000, capacityN: null },
    });
  });
});
