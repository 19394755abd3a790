import { pressureLadder } from '@repo/calc';
import type { Translate } from '@/lib/i18n/i18n';
import { fromInputs, toBlankDrafts } from './forms';
import { PRESSURE_LADDER_FIELDS, PRESSURE_LADDER_GROUPS, readPressureLadder } from './hand-pressure-ladder';

const t = Object.assign(
  (key: string, parameters?: { number: number }) => `${key}${parameters?.number ?? ''}`,
  {},
) as Translate;
const bar = (value: number) => ({ value, unit: 'bar' });
const read = (inputs: Record<string, unknown>) => readPressureLadder(fromInputs(PRESSURE_LADDER_FIELDS, inputs), t);
const statuses = (inputs: Record<string, unknown>): Record<string, string> => {
  const { input } = read(inputs);
  if (input === null) throw new Error('nothing to compute');
  return Object.fromEntries(pressureLadder(input).checks.map(({ code, status }) => [code, status]));
};

/** Worked by hand, no source: 118 required, reset 142, set 150, restart 160, setting 175, source 190, weakest rating 210, workpiece 230. */
const CIRCUIT = {
  requiredPressure: bar(118),
  resetPoint: bar(142),
  setPoint: bar(150),
  pumpRestart: bar(160),
  setting: bar(175),
  highestPressure: bar(190),
  workpieceLimit: bar(230),
  settingTolerance: bar(4),
  switchAccuracy: bar(2),
  gaugeError: bar(1.6),
  pumpRestartTolerance: bar(3),
  pressureDrop: bar(3),
  dropDuration: { value: 5, unit: 'min' },
  reactionTime: { value: 1.2, unit: 's' },
  parts: [{ name: 'Hose', rating: bar(275) }, { rating: { value: 21, unit: 'MPa' } }],
};

describe('a pressure ladder typed by hand', () => {
  it('stands in the groups of its page, each figure once', () => {
    const grouped: string[] = PRESSURE_LADDER_GROUPS.flatMap(({ names }) => [...names]);
    expect([...grouped].sort()).toEqual(Object.keys(PRESSURE_LADDER_FIELDS).sort());
  });

  it('in order holds in every check, and its rungs are what was typed', () => {
    expect(statuses(CIRCUIT)).toEqual({
      'holds-workpiece': 'holds',
      'no-nuisance-stop': 'holds',
      'setting-within-rating': 'holds',
      'highest-within-rating': 'holds',
      'workpiece-limit': 'holds',
    });
    const { input } = read(CIRCUIT);
    const rungs = input === null ? [] : pressureLadder(input).rungs;
    expect(
      rungs.map(({ code, pressurePa }) => [code, pressurePa === null ? null : Math.round(pressurePa / 1e5)]),
    ).toEqual(
      expect.arrayContaining([
        ['required', 118],
        ['setting', 175],
        ['highest-possible', 190],
        ['rating', 275],
        ['rating', 210],
      ]),
    );
    expect(rungs.find(({ isWeakest }) => isWeakest)?.ref?.name).toBe('handPressureLadder.part2');
  });

  it('out of order fails where it is: a setting above a rating, a switch below what is required', () => {
    expect(statuses({ ...CIRCUIT, parts: [{ rating: bar(170) }] })).toMatchObject({ 'setting-within-rating': 'fails' });
    expect(statuses({ ...CIRCUIT, resetPoint: bar(110) })).toMatchObject({ 'holds-workpiece': 'fails' });
  });

  it('assumes nothing: what is not typed is missing, and the checks that need it are unproven', () => {
    const { highestPressure: _highest, ...rest } = CIRCUIT;
    expect(statuses(rest)).toMatchObject({ 'highest-within-rating': 'unproven', 'holds-workpiece': 'holds' });
    expect(statuses({ setting: bar(175) })).toMatchObject({
      'holds-workpiece': 'unproven',
      'workpiece-limit': 'unproven',
    });
  });

  it('is not computed of nothing, nor of what cannot be read', () => {
    expect(readPressureLadder(toBlankDrafts(PRESSURE_LADDER_FIELDS), t).input).toBeNull();
    const drafts = fromInputs(PRESSURE_LADDER_FIELDS, CIRCUIT);
    if (drafts['setting'] !== undefined) drafts['setting'].text = 'much';
    expect(readPressureLadder(drafts, t)).toMatchObject({ input: null, unread: { setting: 'not-a-number' } });
  });
});
