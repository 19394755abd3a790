import type { CircuitFacts } from '../src/circuit-facts/circuit-facts.types.js';
import { proveFacts } from '../src/circuit-facts/prove-facts.js';
import { applyChange } from '../src/way-out/apply-change.js';
import { findWayOut } from '../src/way-out/find-way-out.js';
import { aCircuit, COMPONENTS, READINGS, SETTINGS } from './facts-builder.js';
import { checkOf } from './facts-checks.js';

const BAR = 1e5;
const basis = aCircuit();
/** 40 x 0.98 x 4.5 bar = 176.4 bar, at which the pump stalls (Pascal's law, the pump's own friction by its efficiency). */
const setTo = (bar: number, change: Partial<CircuitFacts> = {}): CircuitFacts =>
  aCircuit({
    settings: {
      inUse: { ...SETTINGS, settingPa: bar * BAR, setPointPa: 110 * BAR, resetPointPa: 100 * BAR },
      isAsLeft: true,
      readings: { ...READINGS, settingPa: bar * BAR },
    },
    ...change,
  });
const settingOf = (facts: CircuitFacts) => checkOf(facts, 'setting-within-rating');

describe('a setting below that at which an air-driven pump stalls', () => {
  it('is none that the circuit has: the pump goes on to 176.4 bar', () => {
    const check = settingOf(setTo(125));
    expect(check).toMatchObject({ status: 'fails', reason: 'stall-above-setting' });
    // A twentieth above 125.
    expect(check?.stated?.demandPa).toBeCloseTo(176.4 * BAR, 3);
    expect(check?.stated?.capacityPa).toBeCloseTo(131.25 * BAR, 3);
    expect(settingOf(setTo(168.1))?.status).toBe('holds');
    expect(settingOf(setTo(167.9))?.status).toBe('fails');
  });

  it('is one behind a reducing valve, and where a relief lets all of the flow out before, and of an electric pump', () => {
    const reduced = { ...basis.circuit, hasReducingValve: true, reducingValveRelieves: true };
    expect(settingOf(setTo(125, { circuit: reduced }))?.status).toBe('holds');
    const relieved = COMPONENTS.map((one) =>
      one.kind === 'relief-valve'
        ? { ...one, figures: { ...one.figures, openingPressure: 130 * BAR, fullFlowPressure: 131 * BAR } }
        : one,
    );
    expect(settingOf(setTo(125, { components: relieved }))?.status).toBe('holds');
    const electric = { ...basis.powerUnit, drive: 'electric' as const };
    expect(settingOf(setTo(125, { powerUnit: electric }))?.status).toBe('holds');
  });

  it('may be one where nobody knows where the pump stalls', () => {
    const lacking = (figure: string) =>
      COMPONENTS.map((part) => {
        const figures = Object.fromEntries(Object.entries(part.figures).filter(([key]) => key !== figure));
        return part.kind === 'pump' ? { ...part, figures } : part;
      });
    const named = { pistonRatio: 'pistonRatio', stallEfficiency: 'stallEfficiencyRatio' };
    for (const [name, field] of Object.entries(named)) {
      const check = settingOf(setTo(125, { components: lacking(name) }));
      expect(check?.status).toBe('unproven');
      expect(check?.missing).toContainEqual({ field, ref: null });
    }
    const unset = setTo(125);
    const inUse = unset.settings.inUse && { ...unset.settings.inUse, airPressurePa: null };
    expect(settingOf({ ...unset, settings: { ...unset.settings, inUse } })?.status).toBe('unproven');
  });

  it('comes with its air: who lowers the setting for the workpiece lowers the air', () => {
    const thin = { ...basis.operations[0]!, workpieceLimitPa: 160 * BAR, workpieceNotLimiting: false };
    const facts = aCircuit({ operations: [thin] });
    const { outcome, changes } = findWayOut(facts);
    expect(outcome).not.toBe('none');
    const setting = changes.find(({ code }) => code === 'setting');
    expect(Number(setting?.air?.lowest)).toBeCloseTo(Number(setting?.lowest) / (40 * 0.98), 3);
    const made = changes.reduce((before, change) => applyChange(before, change), facts);
    expect(proveFacts(made).checks.filter(({ status }) => status === 'fails' || status === 'marginal')).toEqual([]);
    const { settingPa, airPressurePa } = made.settings.inUse ?? {};
    // What the pump then stops at is what is set.
    expect(40 * 0.98 * Number(airPressurePa)).toBeCloseTo(Number(settingPa), 3);
  });
});
