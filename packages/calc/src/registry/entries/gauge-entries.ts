import { GAUGE_CLASSES, GAUGE_GRADES, gaugeError } from '../../gauges/gauge-error.js';
import { gaugeChoice } from '../../gauges/gauge-choice.js';
import { circuitRequiredPressure } from '../../holding/circuit-required-pressure.js';
import { toleranceStack } from '../../statistics/tolerance-stack.js';
import { defineCalculation } from '../define.js';
import {
  fraction,
  list,
  object,
  oneOf,
  optional,
  plain,
  quantity,
  quantityList,
  text,
  withDefault,
  word,
} from '../input-fields.js';
import { like } from '../like-fields.js';
import { likeDifferenceOut, likeOut, numberOut, quantityListOut, quantityOut } from '../output-fields.js';

export const gaugeEntries = [
  defineCalculation({
    id: 'gauge-choice',
    title: 'Which gauge span',
    group: 'gauges',
    cautions: ['judgement', 'rated-pressure'],
    inputs: {
      working: quantity('pressure'),
      highest: quantity('pressure'),
      spans: quantityList('pressure'),
      low: withDefault(fraction(), 0.25),
      high: withDefault(fraction(), 0.75),
    },
    outputs: { acceptable: quantityListOut('pressure', 'bar'), recommended: quantityOut('pressure', 'bar') },
    calculate: gaugeChoice,
  }),
  defineCalculation({
    id: 'gauge-error',
    title: 'How far a gauge may be off',
    group: 'gauges',
    cautions: ['judgement'],
    inputs: {
      span: quantity('pressure'),
      accuracyClass: optional(oneOf(...GAUGE_CLASSES)),
      grade: optional(word(...GAUGE_GRADES)),
      reading: optional(quantity('pressure')),
      temperature: withDefault(quantity('temperature'), { value: 20, unit: 'Cel' }),
    },
    alternatives: [{ kind: 'one', of: [['accuracyClass'], ['grade', 'reading']] }],
    outputs: { error: quantityOut('pressure', 'bar') },
    calculate: gaugeError,
  }),
  defineCalculation({
    id: 'tolerance-stack',
    title: 'Tolerances added up',
    group: 'setting-and-switch',
    cautions: ['judgement'],
    inputs: {
      terms: list(
        {
          name: optional(text()),
          nominal: like('terms', { signed: true }),
          halfWidth: like('terms', { difference: true }),
          distribution: withDefault(word('uniform', 'normal', 'triangular'), 'uniform'),
          sensitivity: withDefault(plain({ signed: true }), 1),
        },
        { most: 1000 },
      ),
      limit: object({
        lower: optional(like('terms', { signed: true })),
        upper: optional(like('terms', { signed: true })),
      }),
    },
    outputs: {
      nominal: likeOut('terms'),
      worstCase: likeDifferenceOut('terms'),
      rootSumSquare: likeDifferenceOut('terms'),
      probability: numberOut(),
    },
    calculate: toleranceStack,
  }),
  defineCalculation({
    id: 'circuit-required-pressure',
    title: 'Pressure that a circuit needs',
    group: 'holding',
    cautions: ['judgement', 'safety-factor', 'component-chart-wins'],
    inputs: {
      clamps: list({
        name: optional(text()),
        force: quantity('force'),
        ratedForce: quantity('force', { positive: true }),
        ratedPressure: quantity('pressure'),
      }),
      scale: plain(),
    },
    outputs: { pressure: quantityOut('pressure', 'bar'), governingClamp: numberOut() },
    calculate: circuitRequiredPressure,
  }),
];
