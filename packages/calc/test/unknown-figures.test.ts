import { judgeCheck } from '../src/pressure-ladder/judge-check.js';
import { listBetween } from '../src/way-out/between.js';
import { ofKind } from '../src/way-out/levers.js';
import type { BadPair } from '../src/way-out/mends.js';
import { listSettingLevers } from '../src/way-out/setting-levers.js';
import { aCircuit, SETTINGS } from './facts-builder.js';

const exactly = (pressurePa: number) => ({ lo: pressurePa, hi: pressurePa });

describe('what is not known', () => {
  it('of a check that holds as stated and not with what is known of its errors, nothing is said of how often: it is not proven', () => {
    const check = judgeCheck({
      code: 'holds-workpiece',
      leastProbability: 0.95,
      demand: { nominal: exactly(100e5), stated: exactly(100e5), worstCase: { lo: 120e5, hi: Infinity } },
      capacity: { nominal: exactly(112e5), stated: exactly(110e5), worstCase: exactly(106e5) },
      failReason: 'below-required',
      subject: null,
      missing: [{ field: 'requiredSpreadPa', ref: null }],
      marginAsked: 0,
      errors: { marginPa: 12e5, halfWidthsPa: [2e5] },
      parameters: {},
      source: 'switch-window',
    });
    expect(check).toMatchObject({ status: 'unproven', reason: 'missing', probability: null });
    expect(check.missing).toEqual([{ field: 'requiredSpreadPa', ref: null }]);
  });

  it('a relief is sought from what is known of the setting, and lowest plant air from nothing', () => {
    const facts = aCircuit();
    const [relief] = ofKind(facts, 'relief-valve', 'relief', 'openingPressure');
    const unset = { ...facts, settings: { ...facts.settings, inUse: { ...SETTINGS, settingPa: null } } };
    const pair: BadPair = {
      ...{ code: 'highest-within-rating', reason: 'relief-opens-below-setting', subject: null, governing: 'source' },
    };
    const known = listBetween(facts, relief!, pair, [facts]);
    const unknown = listBetween(unset, relief!, pair, [unset]);
    expect(Number(known[0]) - Number(unknown[0])).toBeCloseTo(Number(SETTINGS.settingPa), -5);
    const airless = { ...facts, powerUnit: { ...facts.powerUnit, plantAirLowPa: null } };
    expect(listSettingLevers(facts).has('plant-air-low')).toBe(true);
    expect(listSettingLevers(airless).has('plant-air-low')).toBe(false);
    const pumpless = { ...facts, components: facts.components.filter(({ kind }) => kind !== 'pump') };
    expect(listSettingLevers(facts).has('pump-ratio')).toBe(true);
    expect(listSettingLevers(pumpless).has('pump-ratio')).toBe(false);
  });
});
