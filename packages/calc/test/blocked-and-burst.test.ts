import type { CircuitFacts, ComponentFacts } from '../src/circuit-facts/circuit-facts.types.js';
import { toPressureLadderInput } from '../src/circuit-facts/pressure-ladder-input.js';
import { pressureLadder } from '../src/pressure-ladder/pressure-ladder.js';
import { aCircuit, aFixture, COMPONENTS, ELEMENT } from './facts-builder.js';
import { checkOf, withFigures, without } from './facts-checks.js';

const bar = (pa: number | undefined): number => Number(pa) / 1e5;
const { circuit, powerUnit } = aCircuit();
const PISTON_OVER_ANNULUS = 25 ** 2 / (25 ** 2 - 16 ** 2);
/** Stall at the highest plant air: 40 · 5.1 bar · 0.98. */
/** By its ratio alone: what rubs in the pump may rub less. */
const HIGHEST_BAR = 40 * 5.1;
const onClampHose = (figures: Record<string, number>): readonly ComponentFacts[] =>
  COMPONENTS.map((one) =>
    one.kind === 'hose' && one.lineFunctions.includes('clamp')
      ? { ...one, figures: { ...one.figures, ...figures } }
      : one,
  );
const fixtureOf = (change: Partial<typeof ELEMENT>) =>
  aFixture({ ratedPressurePa: 500e5, elements: [{ ...ELEMENT, ratedPressurePa: 500e5, ...change }] });
const HIGH = COMPONENTS.map((one) => ({
  ...one,
  figures: { ...one.figures, ratedPressure: 500e5, ...(one.kind === 'gauge' ? { span: 600e5 } : {}) },
}));
const blocked = (change: Partial<CircuitFacts>) =>
  checkOf(
    aCircuit({
      components: HIGH,
      circuit: { ...circuit, unclampLineCanBlock: true, trappedTemperatureRiseK: 0 },
      ...change,
    }),
    'highest-within-rating',
  );
const sidesOf = (change: Partial<CircuitFacts>) => toPressureLadderInput(aCircuit(change)).blockedSides;

describe('lines that are blocked', () => {
  it('a pushing cylinder intensifies the unclamp line, a pulling one the clamp line, each by its areas', () => {
    for (const form of ['swing-clamp', 'lever-clamp', 'cylinder'] as const) {
      const sides = sidesOf({ fixture: fixtureOf({ form }) });
      const [unclamp, clamp] = ['unclamp', 'clamp'].map((line) => sides?.find((side) => side.line === line)?.ratio);
      const rodSide = form === 'swing-clamp' ? clamp : unclamp;
      const pistonSide = form === 'swing-clamp' ? unclamp : clamp;
      expect(rodSide).toBeCloseTo(PISTON_OVER_ANNULUS, 12);
      expect(pistonSide).toBeCloseTo(1 / PISTON_OVER_ANNULUS, 12);
    }
    expect(sidesOf({ fixture: fixtureOf({ form: null }) })?.map(({ ratio }) => ratio)).toEqual([
      expect.closeTo(PISTON_OVER_ANNULUS, 12),
      expect.closeTo(PISTON_OVER_ANNULUS, 12),
    ]);
  });

  it('swing clamps fail by the clamp line that is shut while they are unclamped, whatever is said of the other line', () => {
    const components = HIGH.map((one) =>
      one.kind === 'pressure-switch' ? { ...one, figures: { ...one.figures, ratedPressure: 300e5 } } : one,
    );
    const check = blocked({ components, fixture: fixtureOf({}) });
    expect(check).toMatchObject({ status: 'fails', reason: 'intensified-above-rating' });
    expect(bar(check?.stated?.demandPa)).toBeCloseTo(HIGHEST_BAR * PISTON_OVER_ANNULUS, 6);
    // The switch of the clamp line, which the unclamp line never sees.
    expect(check?.subject?.name).toBe('pressure-switch of the circuit');
    const decoupled = { ...circuit, unclampLineCanBlock: false, isDecoupled: true, canTrap: true };
    const shut = checkOf(aCircuit({ components, fixture: fixtureOf({}), circuit: decoupled }), 'highest-within-rating');
    expect(shut?.status).toBe('fails');
    const open = { ...circuit, unclampLineCanBlock: false };
    expect(
      checkOf(aCircuit({ components, fixture: fixtureOf({}), circuit: open }), 'highest-within-rating')?.status,
    ).toBe('holds');
  });

  it('a relief of the clamp line itself holds it; one of the supply does not', () => {
    const relief = HIGH.map((one) =>
      one.kind === 'relief-valve'
        ? { ...one, place: 'circuit' as const, lineFunctions: ['clamp'] as const, isBeyondShutOff: true }
        : one,
    );
    const components = relief.map((one) =>
      one.kind === 'pressure-switch' ? { ...one, figures: { ...one.figures, ratedPressure: 300e5 } } : one,
    );
    const held = blocked({ components, fixture: fixtureOf({}) });
    expect(held?.status).toBe('holds');
    // What may block the line is not drawn: the relief may be on the other side of it.
    const unsaid = components.map((one) => ({ ...one, isBeyondShutOff: null }));
    expect(blocked({ components: unsaid, fixture: fixtureOf({}) })?.status).toBe('fails');
    // It bounds the window no more: without it the setting would have to lie below 300 / 1.69 bar.
    const { window } = pressureLadder(toPressureLadderInput(aCircuit({ components, fixture: fixtureOf({}) })));
    expect(bar(window.settingHighestPa ?? 0)).toBeGreaterThan(180);
  });

  // Net expansion x rise x modulus of oil and walls together, times piston over annulus (balance of forces, no friction).
  it('oil that is shut in and warms up presses upon a blocked line with all that it has: (179 + 108) · 1.694 bar', () => {
    const warm = {
      ...{ trappedTemperatureRiseK: 30, trappedNetExpansionPerK: 6e-4, trappedBulkModulusPa: 6e8 },
      ...{ unclampBulkModulusPa: 6e8, canTrap: true, unclampLineCanBlock: true },
    };
    const upTo = (ratedPressure: number, form: 'lever-clamp' | 'swing-clamp', change: Partial<typeof circuit> = {}) =>
      blocked({
        components: HIGH.filter(({ kind }) => kind !== 'relief-valve').map((one) => ({
          ...one,
          figures: { ...one.figures, ratedPressure },
        })),
        fixture: fixtureOf({ form }),
        circuit: { ...circuit, ...warm, ...change },
      });
    const warmed = (175 + 4 + 108) * PISTON_OVER_ANNULUS;
    for (const form of ['lever-clamp', 'swing-clamp'] as const) {
      const check = upTo(400e5, form);
      expect(check).toMatchObject({ status: 'fails', reason: 'intensified-above-rating' });
      expect(bar(check?.stated?.demandPa)).toBeCloseTo(warmed, 6);
      expect(bar(check?.parameters.thermalRisePa)).toBeCloseTo(108 * PISTON_OVER_ANNULUS, 9);
      expect(upTo(500e5, form)?.status).toBe('holds');
    }
    // Where the blocked oil's own walls give way less it rises by more than that: 30 K of 1.2 GPa are 216 bar upon 179 x 1.694.
    const stiff = upTo(500e5, 'lever-clamp', { unclampBulkModulusPa: 1.2e9 });
    expect(stiff).toMatchObject({ status: 'fails', reason: 'intensified-above-rating' });
    expect(bar(stiff?.stated?.demandPa)).toBeCloseTo(179 * PISTON_OVER_ANNULUS + 216, 6);
    // How much it warms up decides, and is asked for: cold, 204 · 1.694 bar would be borne.
    expect(upTo(400e5, 'lever-clamp', { trappedTemperatureRiseK: 0 })?.status).toBe('holds');
    expect(upTo(400e5, 'lever-clamp', { trappedTemperatureRiseK: null })).toMatchObject({
      status: 'unproven',
      missing: expect.arrayContaining([{ field: 'temperatureRiseK', ref: null }]) as unknown,
    });
    // Of the unclamp line nobody has said how its walls give way.
    expect(upTo(450e5, 'swing-clamp', { unclampBulkModulusPa: null })?.status).toBe('unproven');
  });

  it('areas that are not known are asked for by their cylinder', () => {
    expect(blocked({ fixture: fixtureOf({ rodM: null }) })).toMatchObject({
      status: 'unproven',
      missing: [{ field: 'rodSideAreaRatio', ref: { name: 'F-1: Swing clamps' } }],
    });
    expect(sidesOf({ fixture: fixtureOf({ rodM: null }) })).toMatchObject([
      { line: 'unclamp', ratio: 1 },
      { line: 'clamp', ratio: null },
    ]);
    expect(sidesOf({ fixture: null })).toEqual([{ ref: null, line: 'unclamp', ratio: null }]);
    expect(sidesOf({ fixture: fixtureOf({ acting: 'single', springForceN: 300 }) })).toEqual([]);
  });

  it('a cylinder of the circuit pulls where that is said of it', () => {
    const cylinder = (figures: Record<string, number>): ComponentFacts => ({
      ...{ id: 'c', place: 'circuit', kind: 'cylinder', name: 'C', lineFunctions: ['clamp', 'unclamp'], sensing: null },
      figures: { bore: 0.025, rod: 0.016, ...figures },
    });
    const ratioOn = (line: string, figures: Record<string, number>) =>
      sidesOf({ components: [...COMPONENTS, cylinder(figures)] })?.find(
        (side) => side.ref?.id === 'c' && side.line === line,
      )?.ratio;
    expect(ratioOn('unclamp', {})).toBeCloseTo(PISTON_OVER_ANNULUS, 12);
    expect(ratioOn('clamp', { clampsOnRodSide: 1 })).toBeCloseTo(PISTON_OVER_ANNULUS, 12);
    expect(ratioOn('clamp', { clampsOnRodSide: 0 })).toBeCloseTo(1 / PISTON_OVER_ANNULUS, 12);
  });
});

describe('a hose', () => {
  it('is derated by temperature, bend and age, each as typed, and the rung shows by how much', () => {
    const components = onClampHose({ temperatureDerating: 0.9, bendDerating: 0.8, ageDerating: 0.85 });
    const check = checkOf(aCircuit({ components }), 'setting-within-rating');
    expect(bar(check?.stated?.capacityPa)).toBeCloseTo(275 * 0.9 * 0.8 * 0.85, 9);
    const { rungs } = pressureLadder(toPressureLadderInput(aCircuit({ components })));
    const deratingOf = (name: string) => rungs.find(({ ref }) => ref?.id === name)?.parameters.deratingRatio;
    expect(deratingOf('circuit hose clamp')).toBeCloseTo(0.612, 12);
    expect(deratingOf('circuit hose unclamp')).toBe(1);
  });

  it('is never rated above its rating, and for nothing where nothing is left', () => {
    const hoseOf = (figures: Record<string, number>) =>
      toPressureLadderInput(aCircuit({ components: onClampHose(figures) })).components.find(
        ({ ref }) => ref.id === 'circuit hose clamp',
      );
    expect(hoseOf({ ageDerating: 1.4 })?.deratingRatio).toBe(1);
    expect(hoseOf({ ageDerating: -1 })?.deratingRatio).toBe(0);
  });

  const burst = (change: Partial<CircuitFacts>) => checkOf(aCircuit(change), 'holds-workpiece');

  it('that bursts is told beside check 1: the pump’s free flow against the circuit’s oil, as a caution', () => {
    const check = burst({});
    expect(check?.status).toBe('holds');
    expect(check?.pairs).toContainEqual({
      ...{ reason: 'burst-hose', status: 'marginal' },
      subject: expect.objectContaining({ name: 'hose of the circuit' }) as object,
    });
    const circle = (d: number) => (Math.PI / 4) * d ** 2;
    const hose = circle(0.006) * 2;
    const strokes = 4 * (circle(0.025) - circle(0.016)) * 0.012;
    const rate = 3.2 / 60_000 / ((hose + strokes) / 1.5e9 + hose / 1.4e9);
    // Delay of the switch 0.02 s, reaction of the control 1.2 s.
    expect(bar(check?.parameters.burstLossPa)).toBeCloseTo((rate * 1.22) / 1e5, 3);
  });

  it('whose flow is typed must be survived: it decides', () => {
    const fails = burst({ components: onClampHose({ burstFlow: 5e-5 }) });
    expect(fails).toMatchObject({ status: 'fails', reason: 'burst-hose', subject: { name: 'hose of the circuit' } });
    expect(Number(fails?.stated?.marginPa)).toBeLessThan(0);
    expect(fails?.pairs?.[0]).toMatchObject({ reason: 'burst-hose', status: 'fails' });
    expect(burst({ components: onClampHose({ burstFlow: 1e-12 }) })?.status).toBe('holds');
    const unknown = burst({
      components: onClampHose({ burstFlow: 5e-5 }),
      powerUnit: { ...powerUnit, oilBulkModulusPa: null },
    });
    expect(unknown).toMatchObject({ status: 'unproven' });
    expect(unknown?.missing).toContainEqual(expect.objectContaining({ field: 'burstRatePaPerS' }));
    expect(unknown?.parameters.burstLossPa).toBeUndefined();
  });

  it('of the supply is survived behind a check valve; of several the one that lets out most counts', () => {
    const burstOf = (change: Partial<CircuitFacts>) => toPressureLadderInput(aCircuit(change)).hold.burst;
    const moved = COMPONENTS.map((one) =>
      one.kind === 'hose' && one.lineFunctions.includes('clamp') ? { ...one, lineFunctions: ['supply'] as const } : one,
    );
    expect(burstOf({ components: moved })).toMatchObject({ mustHold: false });
    expect(burstOf({ components: moved, circuit: { ...circuit, isCheckHeld: true, canTrap: true } })).toBeNull();
    expect(burstOf({ components: without('hose') })).toBeNull();
    const second = { ...COMPONENTS[0]!, id: 'second', figures: { burstFlow: 1e-6, innerDiameter: 0.006, length: 1 } };
    expect(burstOf({ components: [...COMPONENTS, second] })).toMatchObject({ ref: { id: 'second' }, mustHold: true });
    expect(burstOf({ components: [second, ...onClampHose({ burstFlow: 1e-7 })] })).toMatchObject({
      ref: { id: 'second' },
    });
  });

  it('counts what is not known of its oil as nothing, so that the pressure falls faster', () => {
    const rateOf = (change: Partial<CircuitFacts>) =>
      Number(toPressureLadderInput(aCircuit(change)).hold.burst?.ratePaPerS ?? Infinity);
    const known = rateOf({});
    const elements = (change: Partial<typeof ELEMENT>) => ({
      fixture: aFixture({ elements: [{ ...ELEMENT, ...change }] }),
    });
    for (const change of [{ boreM: null }, { rodM: null }, { strokeM: null }, { form: null, rodM: null }]) {
      expect(rateOf(elements(change))).toBeGreaterThan(known);
    }
    expect(rateOf(elements({ form: 'lever-clamp' }))).toBeLessThan(known);
    expect(rateOf({ components: withFigures('hose', { length: 0 }), fixture: null })).toBe(Infinity);
    expect(rateOf({ components: without('pump') })).toBe(Infinity);
    const bare = COMPONENTS.map((one) => (one.kind === 'hose' ? { ...one, figures: { ratedPressure: 275e5 } } : one));
    expect(rateOf({ components: bare })).toBeGreaterThan(known);
    const swingClamp: ComponentFacts = {
      ...{ id: 's', place: 'circuit', kind: 'swing-clamp', name: 'S', lineFunctions: ['clamp'], sensing: null },
      figures: { bore: 0.02, rod: 0.01, stroke: 0.01 },
    };
    expect(rateOf({ components: [...COMPONENTS, swingClamp] })).toBeLessThan(known);
  });
});
