import { applyEvent } from '../src/interlock/interlock-events.js';
import {
  INTERLOCK_FAULTS,
  type InterlockCase,
  type InterlockFault,
  type InterlockMachine,
  type InterlockState,
  type InterlockCircuit,
} from '../src/interlock/interlock-model.js';
import { interlockProof } from '../src/interlock/interlock-proof.js';
import { SOUND_MACHINE } from './proof-builder.js';
import { INTERLOCK_RULE_NAMES } from '../src/interlock/interlock-rules.js';

const STATION: InterlockCircuit = {
  name: 'A',
  valve: 'double-detented',
  checkValve: true,
  clampOutput: 'Y1',
  unclampOutput: 'Y2',
  switchInput: 'X1',
  clampCode: 'clamp A',
  unclampCode: 'unclamp A',
  codesWait: true,
  outputs: 'held',
};
/** rule → the story that breaks it, as event names */
function broken(
  station: Partial<InterlockCircuit>,
  machine: Partial<InterlockMachine>,
  fault: InterlockFault = 'none',
): Record<string, string> {
  const { stations } = interlockProof({
    stations: [{ ...STATION, ...station }],
    machine: { ...SOUND_MACHINE, ...machine },
    faults: [fault],
  });
  return Object.fromEntries(
    (stations[0]?.broken ?? [])
      .filter((found) => found.fault === fault)
      .map(({ rule, story }) => [rule, story.map(({ event }) => event).join(' > ')]),
  );
}

test('a sound machine keeps every rule, with held and with pulsed outputs, also under the faults that it can bear', () => {
  for (const outputs of ['held', 'pulsed'] as const) {
    for (const fault of [
      'none',
      'crossed-plugs',
      'crossed-hoses',
      'shorted-input',
      'broken-wire',
      'aborted-code',
      'manual-mode',
    ] as const) {
      expect([outputs, fault, broken({ outputs }, {}, fault)]).toEqual([outputs, fault, {}]);
    }
  }
});

test.each([
  [
    'a reset that unclamps',
    {},
    { onReset: 'unclamp' },
    { 'losses-never-unclamp': 'clamp-code > emergency-stop > reset' },
  ],
  [
    'a spring that unclamps',
    { valve: 'single-rests-unclamped' },
    {},
    {
      'losses-never-unclamp': 'clamp-code > output-loss',
      'return-moves-nothing': 'clamp-code > power-off > power-on',
    },
  ],
  [
    'a spring that clamps, its output restored with the power',
    { valve: 'single-rests-clamped' },
    {},
    {
      'losses-never-unclamp': 'unclamp-code > power-off > power-on',
      // On a hand.
      'losses-never-clamp': 'unclamp-code > output-loss',
      'return-moves-nothing': 'unclamp-code > power-off > power-on',
    },
  ],
  [
    'a spring that clamps, its output dropped with the power',
    { valve: 'single-rests-clamped' },
    { onPowerReturn: 'drop' },
    { 'losses-never-clamp': 'unclamp-code > output-loss' },
  ],
  [
    'a centred valve without a check valve',
    { valve: 'double-centred', checkValve: false },
    {},
    {
      'losses-never-unclamp': 'clamp-code > output-loss',
      'return-moves-nothing': 'clamp-code > power-off > power-on',
    },
  ],
  [
    'no block against unclamping',
    {},
    { unclampBlockedWhile: 'never' },
    {
      'no-unclamping-while-turning': 'clamp-code > spindle-start > unclamp-code',
      'no-cutting-unclamped': 'clamp-code > spindle-start > cut-start > unclamp-code',
    },
  ],
  [
    'a block while cutting only',
    {},
    { unclampBlockedWhile: 'cutting' },
    { 'no-unclamping-while-turning': 'clamp-code > spindle-start > unclamp-code' },
  ],
  [
    'an alarm that forgets',
    {},
    { alarmLatches: false },
    { 'alarm-latches': 'clamp-code > pressure-loss > pressure-return' },
  ],
  [
    'a reset that clears the alarm',
    {},
    { resetClearsAlarm: true },
    { 'alarm-latches': 'clamp-code > pressure-loss > reset' },
  ],
  [
    'an alarm without its mask',
    {},
    { alarmMasked: false },
    { 'alarm-masked-while-unclamping': 'clamp-code > unclamp-code' },
  ],
  [
    'no reaction to lost pressure',
    {},
    { onPressureLoss: 'nothing', alarmLatches: true },
    {
      'alarm-latches': 'clamp-code > pressure-loss',
      'pressure-loss-stops': 'clamp-code > spindle-start > cut-start > pressure-loss',
    },
  ],
  [
    'a feed hold only',
    {},
    { onPressureLoss: 'feed-hold' },
    { 'pressure-loss-stops': 'clamp-code > spindle-start > cut-start > pressure-loss' },
  ],
  [
    'a cut without the switch',
    {},
    { cutNeedsSwitch: false },
    {
      'no-cutting-unclamped': 'spindle-start > cut-start',
      'pressure-loss-stops': 'clamp-code > power-off > power-on > spindle-start > cut-start > pressure-loss',
    },
  ],
  ['a pallet without the switch', {}, { palletNeedsSwitch: false }, { 'no-pallet-unclamped': 'pallet-to-spindle' }],
  [
    'air that comes back at once',
    {},
    { airReturn: 'at-once' },
    { 'return-moves-nothing': 'air-off > clamp-code > air-on' },
  ],
] as const)('%s', (_name, station, machine, expected) => {
  expect(broken(station, machine)).toMatchObject(expected);
  expect(
    Object.keys(broken(station, machine)).filter((rule) => !(rule in expected) && rule !== 'no-cutting-unclamped'),
  ).toEqual([]);
});

test('faults that a single switch cannot see are told, with what they break', () => {
  expect(broken({}, {}, 'stuck-switch')).toMatchObject({
    'pressure-loss-stops': 'clamp-code > spindle-start > cut-start > pressure-loss',
  });
  expect(broken({}, { switchMustOpen: false }, 'shorted-input')).toHaveProperty('unopened-switch-not-believed');
  expect(broken({}, { manualInterlocked: false }, 'manual-mode')).toHaveProperty('no-unclamping-while-turning');
  expect(broken({ checkValve: false }, { onPressureLoss: 'alarm-only', onAirLow: 'nothing' })).toHaveProperty(
    'air-loss-held-or-stops',
  );
});

test('crossed plugs on a double-solenoid valve never energise both coils; stations that share are named', () => {
  const second = {
    ...STATION,
    name: 'B',
    clampOutput: 'Y3',
    unclampOutput: 'Y2',
    switchInput: 'X2',
    clampCode: 'clamp B',
    unclampCode: 'unclamp B',
  };
  const { shared, sound, notes, stations } = interlockProof({
    stations: [STATION, second],
    machine: SOUND_MACHINE,
    faults: [...INTERLOCK_FAULTS, 'none'],
  });
  expect([shared, sound]).toEqual([[{ signal: 'Y2', stations: ['A', 'B'] }], false]);
  expect(notes.map(({ code }) => code)).toContain('stations-share-signals');
  expect(stations.every(({ holds }) => holds.includes('never-both-coils'))).toBe(true);
  expect(stations[0]?.holds.length).toBeLessThan(INTERLOCK_RULE_NAMES.length);
});

test('a code that does not wait believes before the switch has made: told as lost at once, and as cutting unclamped never', () => {
  const found = broken({ codesWait: false }, {});
  expect(found).not.toHaveProperty('no-cutting-unclamped');
  const { stations } = interlockProof({
    stations: [{ ...STATION, codesWait: false }],
    machine: { ...SOUND_MACHINE, alarmLatches: false },
    faults: ['broken-wire'],
  });
  // The valve never moves, the code goes on at once: the control has to raise its alarm by itself.
  expect(stations[0]?.holds).toContain('no-cutting-unclamped');
});

test('crossed plugs: a code to unclamp clamps; a second one while the spindle turns takes no pressure away', () => {
  const found = broken({}, { cutNeedsSwitch: false, unclampBlockedWhile: 'never' }, 'crossed-plugs');
  expect(found).not.toHaveProperty('no-unclamping-while-turning');
  // The clamp code is the one that lets go here.
  expect(found['no-cutting-unclamped']).toMatch(/cut-start|clamp-code/);
});

test('eight stations with all faults within a second', () => {
  const stations = Array.from({ length: 8 }, (_, i) => ({
    ...STATION,
    name: `S${i}`,
    clampOutput: `Y${2 * i}`,
    unclampOutput: `Y${2 * i + 1}`,
    switchInput: `X${i}`,
    clampCode: `clamp ${i}`,
    unclampCode: `unclamp ${i}`,
  }));
  const before = process.cpuUsage();
  const { states, shared } = interlockProof({ stations, machine: SOUND_MACHINE, faults: INTERLOCK_FAULTS });
  // Seconds of the processor: what else the machine does is not counted.
  expect(process.cpuUsage(before).user / 1000).toBeLessThan(1000);
  expect([states % 8, shared]).toEqual([0, []]);
});

test('what cannot be proved is refused', () => {
  expect(() => interlockProof({ stations: [], machine: SOUND_MACHINE, faults: ['none'] })).toThrow('one station');
  expect(() => interlockProof({ stations: [STATION], machine: SOUND_MACHINE, faults: [] })).toThrow('one fault');
  expect(() =>
    interlockProof({ stations: [{ ...STATION, unclampCode: 'clamp A' }], machine: SOUND_MACHINE, faults: ['none'] }),
  ).toThrow('two codes');
});

test('the sound machine is always explored: what breaks without a fault is told whatever fault is tried', () => {
  const { sound, stations } = interlockProof({
    stations: [STATION],
    machine: { ...SOUND_MACHINE, palletNeedsSwitch: false },
    faults: ['broken-wire'],
  });
  expect(sound).toBe(false);
  expect(stations[0]?.broken).toContainEqual(expect.objectContaining({ rule: 'no-pallet-unclamped', fault: 'none' }));
});

test('a code that waits and is not answered lets no pallet change and no cut begin', () => {
  // The switch hangs: the clamps are open, the unclamping is not answered, and the control still believes the clamp.
  const unanswered: InterlockState = {
    ...{ power: true, air: true, stopped: false, clampOut: false, unclampOut: true, valve: 1, pressurised: false },
    ...{ leaking: false, spindle: false, cutting: false, command: 2, waits: true },
    ...{ alarm: false, believed: true },
    ...{ hasOpened: false, hasMade: true, otherMade: false },
  };
  const stuck: InterlockCase = { station: STATION, machine: SOUND_MACHINE, fault: 'stuck-switch' };
  for (const event of ['pallet-to-spindle', 'spindle-start'] as const) {
    expect(applyEvent(stuck, unanswered, event)).toBeNull();
    expect(applyEvent({ ...stuck, isFormer: true }, unanswered, event)).not.toBeNull();
  }
  expect(applyEvent(stuck, { ...unanswered, spindle: true }, 'cut-start')).toBeNull();
});

test('wires that cross two switches are found: the other station clamps, and this one is believed', () => {
  expect(broken({}, {}, 'crossed-switches')['no-pallet-unclamped']).toMatch(/other-clamps.*pallet-to-spindle/);
});

test('every code of a station is explored: what one that waits breaks, and what one that does not wait breaks', () => {
  const code = (action: 'clamp' | 'unclamp', waits: boolean) => ({ action, code: `${action}, waits: ${waits}`, waits });
  const waiting = [code('clamp', true), code('unclamp', true)];
  const machine = { alarmLatches: false };
  expect(broken({ codes: waiting }, machine, 'stuck-switch')).not.toHaveProperty('alarm-latches');
  const second = { codes: [...waiting, code('clamp', false)], codesWait: false };
  expect(broken(second, machine, 'stuck-switch')).toHaveProperty('alarm-latches');
  // Where no code waits this one is not broken: the code that waits is explored beside the one that does not.
  const hasty = { valve: 'double-centred', outputs: 'pulsed', codesWait: false } as const;
  expect(broken(hasty, { switchMustOpen: false })).not.toHaveProperty('return-moves-nothing');
  const found = interlockProof({
    stations: [{ ...STATION, ...hasty, codes: [code('clamp', false), ...waiting] }],
    machine: { ...SOUND_MACHINE, switchMustOpen: false },
    faults: ['none'],
  }).stations[0]?.broken.find(({ rule }) => rule === 'return-moves-nothing');
  expect(found?.story.map(({ signal }) => signal)).toContain('clamp, waits: true');
});

test('a second output or input that two circuits have is told, at one station too; the codes of that station are not', () => {
  const first = { ...STATION, place: 'P', signals: ['Y1', 'Y2', 'Y3', 'X1', 'X9'] };
  const codes = { clampCode: 'clamp B', unclampCode: 'unclamp B' };
  const sharedOf = (second: Partial<InterlockCircuit>) =>
    interlockProof({
      stations: [
        first,
        { ...STATION, name: 'B', clampOutput: 'Y5', unclampOutput: 'Y6', switchInput: 'X2', ...second },
      ],
      machine: SOUND_MACHINE,
      faults: ['none'],
    }).shared;
  const both = (signal: string) => ({ signal, stations: ['A', 'B'] });
  expect(sharedOf({ ...codes, place: 'Q', signals: ['Y3', 'Y6', 'X2', 'X9'] })).toEqual([both('Y3'), both('X9')]);
  expect(sharedOf({ place: 'P', signals: ['Y5', 'Y6', 'X1'] })).toEqual([both('X1')]);
  expect(sharedOf({ place: 'Q' })).toEqual([both('clamp A'), both('unclamp A')]);
  // An output that is called as the code that sets it is that code's.
  expect(sharedOf({ ...codes, clampCode: 'M5', clampOutput: 'M5' })).toEqual([]);
  expect(sharedOf({ ...codes, signals: ['Y5', 'Y6', 'X2', 'Y5'] })).toEqual([{ signal: 'Y5', stations: ['B', 'B'] }]);
});

test('many machines of different reactions are explored one after the other, and the first one again with the same result', () => {
  const first = broken({}, {}, 'stuck-switch');
  const choices = [true, false];
  const machines = choices.flatMap((cutNeedsSwitch) =>
    choices.flatMap((palletNeedsSwitch) =>
      choices.flatMap((alarmLatches) =>
        choices.flatMap((switchMustOpen) =>
          choices.map((manualInterlocked) => ({
            ...{ cutNeedsSwitch, palletNeedsSwitch, alarmLatches, switchMustOpen, manualInterlocked },
          })),
        ),
      ),
    ),
  );
  for (const machine of machines) {
    for (const fault of INTERLOCK_FAULTS) broken({}, machine, fault);
  }
  expect(machines.length * INTERLOCK_FAULTS.length).toBeGreaterThan(200);
  expect(broken({}, {}, 'stuck-switch')).toEqual(first);
});
