import { countCusumArl } from '../../counts/count-cusum-arl.js';
import { countCusumDesign } from '../../counts/count-cusum-design.js';
import { countRateInterval } from '../../counts/count-rate-interval.js';
import { driftCrossing } from '../../counts/drift-crossing.js';
import { ewmaArl } from '../../counts/ewma-arl.js';
import { gammaPoisson } from '../../counts/gamma-poisson.js';
import { normalCusumArl } from '../../counts/normal-cusum-arl.js';
import { particleCode } from '../../counts/particle-code.js';
import { weibullLife } from '../../counts/weibull-life.js';
import { weibullReliability } from '../../counts/weibull-reliability.js';
import { defineCalculation } from '../define.js';
import { count, fraction, list, optional, plain, quantity, withDefault, word } from '../input-fields.js';
import { like, likeList } from '../like-fields.js';
import { booleanOut, likeOut, likeSlopeOut, likeTimeOut, numberListOut, numberOut, wordOut } from '../output-fields.js';

const confidence = fraction({ belowOne: true });

export const countEntries = [
  defineCalculation({
    id: 'count-rate-interval',
    title: 'Rate of events with its interval',
    group: 'counts-and-life',
    cautions: ['judgement', 'few-events'],
    inputs: {
      events: count(),
      exposure: like('exposure', { time: true, positive: true }),
      confidence: withDefault(confidence, 0.95),
    },
    outputs: {
      rate: likeTimeOut('exposure', '1/d'),
      lower: likeTimeOut('exposure', '1/d'),
      upper: likeTimeOut('exposure', '1/d'),
      meanTime: likeTimeOut('exposure', 'd'),
      meanTimeLower: likeTimeOut('exposure', 'd'),
      meanTimeUpper: likeTimeOut('exposure', 'd'),
    },
    calculate: countRateInterval,
  }),
  defineCalculation({
    id: 'gamma-poisson',
    title: 'Rate of events from a prior and counts',
    group: 'counts-and-life',
    cautions: ['judgement', 'state-the-prior'],
    inputs: {
      priorShape: plain(),
      priorExposure: like('exposure', { time: true }),
      events: count(),
      exposure: like('exposure', { time: true }),
      horizon: optional(like('exposure', { time: true })),
      confidence: withDefault(confidence, 0.9),
    },
    outputs: {
      mean: likeTimeOut('exposure', '1/d'),
      lower: likeTimeOut('exposure', '1/d'),
      upper: likeTimeOut('exposure', '1/d'),
      probabilityZero: numberOut(),
    },
    calculate: (input) => ({ probabilityZero: undefined, ...gammaPoisson(input) }),
  }),
  defineCalculation({
    id: 'count-cusum-arl',
    title: 'Run length of a sum of counts',
    group: 'counts-and-life',
    cautions: ['judgement'],
    isLong: true,
    inputs: {
      k: plain(),
      h: plain({ positive: true }),
      mean: plain(),
      headstart: withDefault(plain(), 0),
      direction: withDefault(word('upper', 'lower'), 'upper'),
      inControlMean: optional(plain()),
      outOfControlMean: optional(plain()),
    },
    outputs: { arl: numberOut(), arl0: numberOut(), arl1: numberOut() },
    calculate: (input) => ({ arl0: undefined, arl1: undefined, ...countCusumArl(input) }),
  }),
  defineCalculation({
    id: 'count-cusum-design',
    title: 'Limits of a sum of counts',
    group: 'counts-and-life',
    cautions: ['judgement'],
    isLong: true,
    inputs: {
      inControlMean: plain({ positive: true }),
      outOfControlMean: plain({ positive: true }),
      targetArl0: plain(),
      step: withDefault(plain({ positive: true }), 0.1),
    },
    outputs: { k: numberOut(), h: numberOut(), arl0: numberOut(), arl1: numberOut() },
    calculate: countCusumDesign,
  }),
  defineCalculation({
    id: 'normal-cusum-arl',
    title: 'Run length of a sum of measurements',
    group: 'counts-and-life',
    cautions: ['judgement'],
    isLong: true,
    inputs: {
      k: plain(),
      h: plain({ positive: true }),
      shift: withDefault(plain({ signed: true }), 0),
      sided: withDefault(word('two', 'one'), 'two'),
      headstart: withDefault(plain(), 0),
    },
    outputs: { arl: numberOut() },
    calculate: normalCusumArl,
  }),
  defineCalculation({
    id: 'ewma-arl',
    title: 'Run length of a weighted moving average',
    group: 'counts-and-life',
    cautions: ['judgement'],
    isLong: true,
    inputs: {
      lambda: fraction({ positive: true }),
      limit: plain({ positive: true }),
      shift: withDefault(plain({ signed: true }), 0),
    },
    outputs: { arl: numberOut() },
    calculate: ewmaArl,
  }),
  defineCalculation({
    id: 'drift-crossing',
    title: 'When a drift crosses a threshold',
    group: 'counts-and-life',
    cautions: ['judgement'],
    inputs: {
      series: list(
        { time: like('time', { time: true, signed: true }), value: like('value', { signed: true }) },
        { least: 3, most: 2000 },
      ),
      threshold: like('value', { signed: true }),
      confidence: withDefault(confidence, 0.95),
    },
    outputs: {
      slope: likeSlopeOut('value', 'time'),
      slopeLower: likeSlopeOut('value', 'time'),
      slopeUpper: likeSlopeOut('value', 'time'),
      drifting: booleanOut(),
      intercept: likeOut('value'),
      crossingTime: likeTimeOut('time', 'd'),
      crossingEarliest: likeTimeOut('time', 'd'),
      crossingLatest: likeTimeOut('time', 'd'),
      status: wordOut('not drifting', 'ahead', 'past'),
    },
    calculate: driftCrossing,
  }),
  defineCalculation({
    id: 'weibull-life',
    title: 'Life from failures and survivors',
    group: 'counts-and-life',
    cautions: ['judgement', 'few-events'],
    inputs: {
      failures: likeList('life', { time: true, positive: true, least: 2 }),
      suspensions: withDefault(likeList('life', { time: true, positive: true }), []),
      method: withDefault(word('ml', 'rank'), 'ml'),
    },
    outputs: { shape: numberOut(), scale: likeTimeOut('life', 'h'), b10: likeTimeOut('life', 'h') },
    calculate: weibullLife,
  }),
  defineCalculation({
    id: 'weibull-reliability',
    title: 'Reliability at an age',
    group: 'counts-and-life',
    cautions: ['judgement'],
    inputs: {
      shape: plain({ positive: true }),
      scale: like('life', { time: true, positive: true }),
      age: like('life', { time: true }),
      interval: optional(like('life', { time: true })),
    },
    outputs: {
      hazard: likeTimeOut('life', '1/h'),
      reliability: numberOut(),
      conditionalReliability: numberOut(),
      b10: likeTimeOut('life', 'h'),
    },
    calculate: (input) => ({ conditionalReliability: undefined, ...weibullReliability(input) }),
  }),
  defineCalculation({
    id: 'particle-code',
    title: 'Cleanliness code of an oil',
    group: 'counts-and-life',
    cautions: ['judgement'],
    inputs: {
      above4: quantity('particle-concentration'),
      above6: quantity('particle-concentration'),
      above14: quantity('particle-concentration'),
    },
    outputs: { code: wordOut(), codes: numberListOut() },
    calculate: particleCode,
  }),
];
