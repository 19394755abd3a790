import { INTERLOCK_EVENTS, INTERLOCK_FAULTS } from '../../interlock/interlock-model.js';
import { interlockProof } from '../../interlock/interlock-proof.js';
import { INTERLOCK_RULE_NAMES } from '../../interlock/interlock-rules.js';
import { defineCalculation } from '../define.js';
import { boolean, list, object, text, withDefault, word, wordList } from '../input-fields.js';
import { booleanOut, listOut, numberOut, wordListOut, wordOut } from '../output-fields.js';

export const interlockEntries = [
  defineCalculation({
    id: 'interlock-proof',
    title: 'Is the clamping interlock sound?',
    group: 'interlock',
    cautions: ['judgement', 'not-a-safety-function', 'local-electrical-code'],
    inputs: {
      stations: list(
        {
          name: text(),
          valve: word('double-detented', 'double-centred', 'single-rests-clamped', 'single-rests-unclamped'),
          checkValve: boolean(),
          clampOutput: text(),
          unclampOutput: text(),
          switchInput: text(),
          clampCode: text(),
          unclampCode: text(),
          codesWait: boolean(),
          outputs: word('held', 'pulsed'),
        },
        { most: 32 },
      ),
      machine: object({
        onPressureLoss: word('stop', 'feed-hold', 'alarm-only', 'nothing'),
        cutNeedsSwitch: boolean(),
        palletNeedsSwitch: boolean(),
        unclampBlockedWhile: word('turning', 'cutting', 'never'),
        alarmLatches: boolean(),
        resetClearsAlarm: boolean(),
        alarmMasked: boolean(),
        onEmergencyStop: word('keep', 'drop'),
        onReset: word('keep', 'drop', 'unclamp'),
        onPowerReturn: word('keep', 'drop'),
        onAirLow: word('stop', 'nothing'),
        airReturn: word('by-hand', 'at-once'),
        switchMustOpen: boolean(),
        manualInterlocked: boolean(),
      }),
      faults: withDefault(wordList(...INTERLOCK_FAULTS), [...INTERLOCK_FAULTS]),
    },
    outputs: {
      states: numberOut(),
      sound: booleanOut(),
      shared: listOut({ signal: wordOut(), stations: wordListOut() }),
      stations: listOut({
        name: wordOut(),
        states: numberOut(),
        holds: wordListOut(...INTERLOCK_RULE_NAMES),
        broken: listOut({
          rule: wordOut(...INTERLOCK_RULE_NAMES),
          fault: wordOut(...INTERLOCK_FAULTS),
          needsSecondChannel: booleanOut(),
          story: listOut({
            event: wordOut(...INTERLOCK_EVENTS),
            signal: wordOut(),
            clamped: booleanOut(),
            spindle: booleanOut(),
            cutting: booleanOut(),
            alarm: booleanOut(),
          }),
        }),
      }),
    },
    calculate(input) {
      const { stations, ...result } = interlockProof(input);
      const withSignals = stations.map((station) => ({
        ...station,
        broken: station.broken.map((finding) => ({
          ...finding,
          story: finding.story.map((step) => ({ signal: undefined, ...step })),
        })),
      }));
      return { ...result, stations: withSignals };
    },
  }),
];
