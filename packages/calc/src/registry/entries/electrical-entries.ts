import { coilRelease } from '../../electrical/coil-release.js';
import { conductorResistance } from '../../electrical/conductor-resistance.js';
import { controlSupply } from '../../electrical/control-supply.js';
import { dcLineDrop } from '../../electrical/dc-line-drop.js';
import { PROTECTED_GAUGES, protectionChoice } from '../../electrical/protection-choice.js';
import { defineCalculation } from '../define.js';
import {
  boolean,
  count,
  fraction,
  list,
  oneOf,
  optional,
  plain,
  quantity,
  text,
  withDefault,
} from '../input-fields.js';
import { powerOrCurrent } from '../power-or-current.js';
import { booleanOut, numberOut, quantityOut } from '../output-fields.js';

const gauge = optional(count({ signed: true }));
const crossSection = optional(quantity('area', { positive: true }));
const temperature = withDefault(quantity('temperature'), { value: 20, unit: 'Cel' });

export const electricalEntries = [
  defineCalculation({
    id: 'conductor-resistance',
    title: 'Resistance of a conductor',
    group: 'electrical',
    cautions: ['judgement', 'local-electrical-code'],
    inputs: { gauge, crossSection, length: quantity('length'), temperature },
    alternatives: [{ kind: 'one', of: [['gauge'], ['crossSection']] }],
    outputs: {
      diameter: quantityOut('length', 'mm'),
      crossSection: quantityOut('area', 'mm2'),
      resistance: quantityOut('resistance', 'Ohm'),
    },
    calculate: conductorResistance,
  }),
  defineCalculation({
    id: 'dc-line-drop',
    title: 'Voltage at the end of a cable',
    group: 'electrical',
    cautions: ['judgement', 'local-electrical-code'],
    inputs: {
      supplyVoltage: quantity('voltage', { positive: true }),
      load: powerOrCurrent({ power: { positive: true }, current: {} }),
      gauge,
      crossSection,
      length: quantity('length'),
      temperature,
      ratedVoltage: withDefault(quantity('voltage', { positive: true }), { value: 24, unit: 'V' }),
      tolerance: withDefault(fraction(), 0.1),
    },
    alternatives: [{ kind: 'one', of: [['gauge'], ['crossSection']] }],
    outputs: {
      current: quantityOut('current', 'A'),
      drop: quantityOut('voltage', 'V'),
      voltageAtLoad: quantityOut('voltage', 'V'),
      dropPercent: numberOut(),
      withinTolerance: booleanOut(),
    },
    calculate: dcLineDrop,
  }),
  defineCalculation({
    id: 'control-supply',
    title: 'Size of a control supply',
    group: 'electrical',
    cautions: ['judgement', 'local-electrical-code'],
    inputs: {
      loads: list({
        name: text(),
        watts: quantity('power'),
        count: count(),
        simultaneous: optional(count()),
        inrushFactor: withDefault(plain(), 1),
      }),
      supplyRating: quantity('power', { positive: true }),
      reserve: withDefault(fraction(), 0.2),
      voltage: withDefault(quantity('voltage', { positive: true }), { value: 24, unit: 'V' }),
      peakRating: optional(quantity('power')),
    },
    outputs: {
      steadyLoad: quantityOut('power', 'W'),
      peakLoad: quantityOut('power', 'W'),
      requiredRating: quantityOut('power', 'W'),
      current: quantityOut('current', 'A'),
      utilisation: numberOut(),
      adequate: booleanOut(),
    },
    calculate: controlSupply,
  }),
  defineCalculation({
    id: 'coil-release',
    title: 'How fast a solenoid lets go',
    group: 'electrical',
    cautions: ['judgement', 'local-electrical-code'],
    inputs: {
      inductance: quantity('inductance'),
      resistance: quantity('resistance', { positive: true }),
      supplyVoltage: quantity('voltage'),
      clampVoltage: quantity('voltage'),
      fraction: withDefault(fraction(), 0.1),
    },
    outputs: {
      energy: quantityOut('energy', 'J'),
      releaseTime: quantityOut('time', 's'),
      peakVoltage: quantityOut('voltage', 'V'),
    },
    calculate: coilRelease,
  }),
  defineCalculation({
    id: 'protection-choice',
    title: 'Protection of a circuit',
    group: 'electrical',
    cautions: ['judgement', 'local-electrical-code'],
    inputs: {
      load: quantity('current'),
      continuous: withDefault(boolean(), true),
      gauge: optional(oneOf(...PROTECTED_GAUGES)),
    },
    outputs: {
      requiredRating: quantityOut('current', 'A'),
      protection: quantityOut('current', 'A'),
      conductorLimit: quantityOut('current', 'A'),
      adequate: booleanOut(),
    },
    calculate: (input) => ({ conductorLimitA: undefined, adequate: undefined, ...protectionChoice(input) }),
  }),
];
