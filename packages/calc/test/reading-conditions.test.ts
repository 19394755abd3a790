import type {
  CircuitFacts,
  ComponentKind,
  FixtureElementFacts,
  LineFunction,
  ReadingFacts,
} from '../src/circuit-facts/circuit-facts.types.js';
import { toProofInput } from '../src/circuit-facts/prove-facts.js';
import { aCircuit, aFixture, aRandomCircuit, READINGS, seeded, SETTINGS } from './facts-builder.js';
import { checkOf } from './facts-checks.js';
import { proveFacts } from '../src/circuit-facts/prove-facts.js';
import { findWayOut } from '../src/way-out/find-way-out.js';
import { COMPONENT_FIGURES } from '../src/figures/component-figures.js';

type PowerUnit = Partial<CircuitFacts['powerUnit']>;
const read = (readings: Partial<ReadingFacts>, { isAsLeft = true, powerUnit = {} as PowerUnit } = {}): CircuitFacts =>
  aCircuit({
    settings: { inUse: SETTINGS, isAsLeft, readings: { ...READINGS, ...readings } },
    powerUnit: { ...aCircuit().powerUnit, ...powerUnit },
  });
const exchanged = (kind: ComponentKind, lineFunctions: readonly LineFunction[] = ['clamp'], isAsLeft = true) =>
  read({ changed: [{ kind, lineFunctions }] }, { isAsLeft });
const leakOf = (facts: CircuitFacts) => toProofInput(facts).pressureLadder.hold.decayRatePaPerS;
const missingOf = (facts: CircuitFacts, code: string) => checkOf(facts, code)?.missing.map(({ field }) => field) ?? [];

describe('a reading of times', () => {
  it('with warm oil does not say how long it takes with the coldest', () => {
    expect(toProofInput(read({})).measured?.isSlowest).toBe(true);
    for (const oilTemperatureK of [308.15, null]) {
      const facts = read({ oilTemperatureK, clampTimeS: 0.3, contactTimeS: 0, timeToleranceS: 0 });
      const shown = checkOf(facts, 'clamping-time');
      const computed = checkOf(read({ clampTimeS: null, contactTimeS: null }), 'clamping-time');
      expect(shown?.numbers?.stated?.demand).toBe(computed?.numbers?.stated?.demand);
      expect(shown?.status).toBe(computed?.status);
    }
  });

  it('with warm oil fails all the same where it is too late, or the switch made before the last clamp had reached contact', () => {
    const warm = { oilTemperatureK: 308.15 };
    expect(checkOf(read({ ...warm, clampTimeS: 4 }), 'clamping-time')).toMatchObject({
      status: 'fails',
      reason: 'clamps-too-slowly',
    });
    expect(checkOf(read({ ...warm, contactTimeS: 1.75 }), 'clamping-time')).toMatchObject({
      status: 'fails',
      reason: 'switch-before-contact',
    });
    expect(checkOf(read({ ...warm, contactTimeS: 1.4, clampTimeS: 1.45, timeToleranceS: null }), 'clamping-time')?.status).not.toBe('fails'); // prettier-ignore
  });
  it('with the switch set otherwise, or lower plant air, does not say how long it takes now', () => {
    const quick = { clampTimeS: 0.3, contactTimeS: 0, timeToleranceS: 0, unclampTimeS: 0.2 };
    const computed = read({ clampTimeS: null, contactTimeS: null, unclampTimeS: null });
    const lowAir = { powerUnit: { plantAirLowPa: 4.3e5 } };
    const airAsComputed = read({ clampTimeS: null, contactTimeS: null, unclampTimeS: null }, lowAir);
    const demandOf = (facts: CircuitFacts, code: string) => checkOf(facts, code)?.numbers?.stated?.demand;
    for (const setPointPa of [151e5, 149e5, null]) {
      const facts = read({ ...quick, setPointPa });
      expect(demandOf(facts, 'clamping-time')).toBe(demandOf(computed, 'clamping-time'));
      // Opening asks no switch.
      expect(demandOf(facts, 'unclamping')).toBe(0.2);
    }
    expect(demandOf(read({ ...quick, setPointPa: SETTINGS.setPointPa }), 'clamping-time')).toBe(0.3);
    for (const code of ['clamping-time', 'unclamping']) {
      expect(demandOf(read(quick, lowAir), code)).toBe(demandOf(airAsComputed, code));
    }
    // An electric pump asks no air.
    const isElectric = { powerUnit: { plantAirLowPa: null, drive: 'electric' as const } };
    expect(toProofInput(read(quick, isElectric)).measured?.isSlowest).toBe(true);
    expect(toProofInput(read(quick, { powerUnit: { plantAirLowPa: null } })).measured?.isSlowest).toBe(false);
  });

  it('with the switch set otherwise, or lower plant air, fails all the same where it is too late or made before contact, also where nothing can be computed', () => {
    for (const change of [{}, { oilBulkModulusPa: null }]) {
      const powerUnit = { ...change, plantAirLowPa: 4.3e5 };
      const late = checkOf(read({ clampTimeS: 4 }, { powerUnit }), 'clamping-time');
      expect(late).toMatchObject({ status: 'fails', reason: 'clamps-too-slowly' });
      const before = checkOf(read({ contactTimeS: 1.75 }, { powerUnit }), 'clamping-time');
      expect(before).toMatchObject({ status: 'fails', reason: 'switch-before-contact' });
      expect(checkOf(read({ unclampTimeS: 7 }, { powerUnit }), 'unclamping')).toMatchObject({ status: 'fails' });
    }
    const unknown = { powerUnit: { oilBulkModulusPa: null, plantAirLowPa: 4.3e5 } };
    expect(checkOf(read({}, unknown), 'clamping-time')?.status).toBe('unproven');
  });

  it('on the fixture before its clamps were changed says nothing of what is fitted now, nor do leak and pull', () => {
    const { elements } = aFixture();
    const changeTo = (change: Partial<FixtureElementFacts>) =>
      toProofInput(
        read({ fixtureElements: elements.map((one) => (one.kind === 'clamp' ? { ...one, ...change } : one)) }),
      );
    const others = [
      ...[{ boreM: 0.032 }, { rodM: 0.018 }, { strokeM: 0.02 }, { quantity: 6 }, { acting: 'single' as const }].map(
        changeTo,
      ),
      ...[{ form: 'lever-clamp' as const }, { id: 'others', boreM: 0.032 }, { kind: 'support' as const }].map(changeTo),
      toProofInput(read({ fixtureElements: [] })),
    ];
    for (const input of others) {
      expect(input.measured).toBeNull();
      expect(input.pressureLadder.hold.decayRatePaPerS).toBeNull();
      expect(input.sharedSupply.others.map(({ lowestPressurePa }) => lowestPressurePa)).toEqual([null]);
    }
    const before = toProofInput(read({}));
    // Renamed, moved, or a figure filled in that nobody had said: still the same clamps; nor do locators take oil.
    for (const change of [{ name: 'Others' }, { id: 'others' }, { boreM: null }, { frictionN: 10 }, {}])
      expect(changeTo(change)).toEqual(before);
    expect(toProofInput(read({ fixtureElements: elements.filter(({ kind }) => kind === 'clamp') }))).toEqual(before);
  });
});

describe('the leak that was read', () => {
  it('is reckoned larger by the error of the gauge that it was read on, and is not known without it', () => {
    const isothermal = { powerUnit: { workingOilTemperatureK: 283.15 } };
    // 1.6 % of 250 bar. It fell fastest as the test began: p = p0 e^(-kt) from the setting that was read.
    const from = Number(read({}).settings.readings?.settingPa);
    expect(leakOf(read({}, isothermal))).toBeCloseTo((from * Math.log(from / (from - 3e5 - 4e5))) / 300, 6);
    expect(leakOf(read({ gaugeClass: null }, isothermal))).toBeNull();
    expect(leakOf(read({ gaugeSpanPa: null }, isothermal))).toBeNull();
  });

  it('grows as oil thins from the temperature of the reading to that at work, and is not known without either', () => {
    const atWork = Number(leakOf(read({ oilTemperatureK: 313.15 })));
    const warmer = Number(leakOf(read({ oilTemperatureK: 323.15 })));
    const colder = Number(leakOf(read({ oilTemperatureK: 283.15 })));
    expect(warmer).toBe(atWork);
    // Of VG 32 some 32 mm2/s at 40 °C are about 160 at 10 °C.
    expect(colder / atWork).toBeGreaterThan(4.5);
    expect(colder / atWork).toBeLessThan(6.5);
    // Nobody has said how warm it was: as cold as oil gets.
    expect(leakOf(read({ oilTemperatureK: null }))).toBe(colder);
    for (const powerUnit of [
      { workingOilTemperatureK: null },
      { oilViscosityAt40M2PerS: null },
      { oilViscosityAt100M2PerS: null },
      // No oil is thicker when it is hot.
      { oilViscosityAt100M2PerS: 40e-6 },
    ]) {
      expect(leakOf(read({}, { powerUnit }))).toBeNull();
    }
    expect(leakOf(read({ oilTemperatureK: null }, { powerUnit: { coldOilTemperatureK: null } }))).toBeNull();
  });
});

describe('what was read before something was exchanged', () => {
  const bearing = (['pressure-switch', 'directional-valve', 'pump', 'gauge', 'swing-clamp', 'hose', 'check-valve'] as const); // prettier-ignore

  it.each(bearing)('does not stand for a new %s', (kind) => {
    const input = toProofInput(exchanged(kind));
    expect(input.pressureLadder.hold.decayRatePaPerS).toBeNull();
    expect(input.measured).toBeNull();
    expect(input.sharedSupply.others.map(({ lowestPressurePa }) => lowestPressurePa)).toEqual([null]);
    expect(checkOf(exchanged(kind), 'holds-workpiece')?.status).toBe('unproven');
  });

  it('stands where only what no oil under pressure is in was exchanged, or a relief away from the clamps', () => {
    const before = toProofInput(read({}));
    for (const facts of [
      exchanged('reservoir', ['tank']),
      exchanged('relay', []),
      exchanged('power-supply', []),
      exchanged('relief-valve', ['supply']),
    ]) {
      expect(toProofInput(facts)).toEqual(before);
    }
    expect(leakOf(exchanged('relief-valve', ['clamp']))).toBeNull();
    expect(leakOf(exchanged('relief-valve', []))).toBeNull();
  });

  it('leaves the points of the former switch unknown of the one that is fitted now', () => {
    expect(missingOf(exchanged('pressure-switch'), 'holds-workpiece')).toEqual(
      expect.arrayContaining(['resetPointPa', 'setPointPa']),
    );
    expect(checkOf(exchanged('pressure-switch'), 'no-nuisance-stop')?.status).toBe('unproven');
    expect(checkOf(exchanged('pressure-switch'), 'setting-within-rating')?.status).toBe('holds');
  });

  it('leaves unknown what was set by the former pump, regulator, reducing valve or gauge', () => {
    for (const kind of ['pump', 'reducing-valve', 'pressure-regulator', 'gauge'] as const) {
      expect(toProofInput(exchanged(kind)).pressureLadder.settingPa).toBeNull();
    }
    expect(toProofInput(exchanged('pump')).pressureLadder.pump.restartPressurePa).toBeNull();
    expect(toProofInput(exchanged('pressure-regulator')).pressureLadder.pump.airPressurePa).toBeNull();
    expect(toProofInput(exchanged('gauge')).pressureLadder.resetPointPa).toBeNull();
  });

  it('leaves a target as it was released: it is still to be set', () => {
    for (const kind of bearing) {
      const { settingPa, setPointPa } = toProofInput(exchanged(kind, ['clamp'], false)).pressureLadder;
      expect([settingPa, setPointPa]).toEqual([SETTINGS.settingPa, SETTINGS.setPointPa]);
    }
  });

  it('never makes anything read better, whatever is exchanged', () => {
    const rank = { fails: 0, unproven: 0, marginal: 1, holds: 2, 'not-applicable': 2 } as const;
    const kinds = Object.keys(COMPONENT_FIGURES) as ComponentKind[];
    const better: string[] = [];
    for (let seed = 0; seed < 300; seed += 1) {
      const facts = aRandomCircuit(seed);
      const { readings } = facts.settings;
      if (readings === null) continue;
      const kind = kinds[Math.floor(seeded(seed)() * kinds.length)] ?? 'pump';
      const changed = [...(readings.changed ?? []), { kind, lineFunctions: ['clamp'] as const }];
      const after = proveFacts({ ...facts, settings: { ...facts.settings, readings: { ...readings, changed } } });
      for (const [index, { code, status }] of proveFacts(facts).checks.entries()) {
        // Times go before what is computed, which then stands in.
        if (code === 'clamping-time' || code === 'unclamping') continue;
        if (rank[after.checks[index]?.status ?? 'holds'] > rank[status]) better.push(`${seed} ${kind} ${code}`);
      }
    }
    expect(better).toEqual([]);
  });
});

describe('the way out of a circuit whose hardware was exchanged', () => {
  it('takes nothing as known that was set on what is gone: it is to be recorded first', () => {
    const facts = { ...exchanged('pressure-switch'), operations: [] };
    const wayOut = findWayOut(facts);
    expect(wayOut.changes).toEqual([]);
    expect(wayOut.records.map(({ field }) => field)).toEqual(expect.arrayContaining(['setPointPa', 'resetPointPa']));
    const failing = exchanged('pressure-switch');
    const heavy = failing.operations.map((operation) => ({
      ...operation,
      workpieceLimitPa: 110e5,
      workpieceNotLimiting: false,
    }));
    const wayOutOfHeavy = findWayOut({ ...failing, operations: heavy });
    expect(wayOutOfHeavy.changes.filter(({ code }) => code === 'switch')).toEqual([]);
    expect(wayOutOfHeavy.records.map(({ field }) => field)).toContain('setPointPa');
  });
});
