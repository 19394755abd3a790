import { drillingForce } from '../../cutting/drilling-force.js';
import { millingForce } from '../../cutting/milling-force.js';
import { removalPower } from '../../cutting/removal-power.js';
import { specificCuttingForce } from '../../cutting/specific-cutting-force.js';
import { tappingTorque } from '../../cutting/tapping-torque.js';
import { clampSlipForce } from '../../holding/clamp-slip-force.js';
import { defineCalculation } from '../define.js';
import { count, fraction, optional, plain, quantity, withDefault, word } from '../input-fields.js';
import { numberOut, quantityOut } from '../output-fields.js';

const angle = quantity('angle');
const wear = withDefault(plain(), 1);

export const cuttingEntries = [
  defineCalculation({
    id: 'specific-cutting-force',
    title: 'Specific cutting force',
    group: 'cutting-forces',
    cautions: ['judgement'],
    inputs: {
      kc11: quantity('stress'),
      mc: fraction(),
      chipThickness: quantity('length', { positive: true }),
      rakeAngle: optional(quantity('angle', { signed: true })),
      referenceRake: optional(quantity('angle', { signed: true })),
      correction: withDefault(plain(), 1),
      width: optional(quantity('length')),
    },
    alternatives: [{ kind: 'most', of: [['rakeAngle', 'referenceRake']] }],
    outputs: { kc: quantityOut('stress', 'N/mm2'), force: quantityOut('force', 'N') },
    calculate: (input) => ({ forceN: undefined, ...specificCuttingForce(input) }),
  }),
  defineCalculation({
    id: 'milling-force',
    title: 'Forces and power of milling',
    group: 'cutting-forces',
    cautions: ['judgement', 'safety-factor'],
    inputs: {
      kc11: quantity('stress'),
      mc: fraction(),
      cutterDiameter: quantity('length', { positive: true }),
      teeth: count({ least: 1, most: 1000 }),
      feedPerTooth: quantity('length', { positive: true }),
      axialDepth: quantity('length'),
      radialWidth: optional(quantity('length', { positive: true })),
      engagement: optional(word('up', 'down', 'centred')),
      entryAngle: optional(angle),
      exitAngle: optional(angle),
      leadAngle: withDefault(quantity('angle', { positive: true }), { value: 90, unit: 'deg' }),
      speed: optional(quantity('frequency')),
      cuttingSpeed: optional(quantity('speed')),
      wear,
    },
    alternatives: [
      {
        kind: 'one',
        of: [
          ['radialWidth', 'engagement'],
          ['entryAngle', 'exitAngle'],
        ],
      },
      { kind: 'one', of: [['speed'], ['cuttingSpeed']] },
    ],
    outputs: {
      entryAngle: quantityOut('angle', 'deg'),
      exitAngle: quantityOut('angle', 'deg'),
      meanChipThickness: quantityOut('length', 'mm'),
      teethEngaged: numberOut(),
      meanTangentialForcePerTooth: quantityOut('force', 'N'),
      peakTangentialForce: quantityOut('force', 'N'),
      materialRemovalRate: quantityOut('flow', 'cm3/min'),
      meanPower: quantityOut('power', 'kW'),
      torque: quantityOut('torque', 'N.m'),
    },
    calculate: millingForce,
  }),
  defineCalculation({
    id: 'drilling-force',
    title: 'Thrust and torque of drilling',
    group: 'cutting-forces',
    cautions: ['judgement', 'safety-factor'],
    inputs: {
      kc11: quantity('stress'),
      mc: fraction(),
      diameter: quantity('length'),
      feed: quantity('length', { positive: true }),
      pointAngle: quantity('angle', { positive: true }),
      speed: quantity('frequency'),
      efficiency: withDefault(fraction({ positive: true }), 1),
      thrustFactor: withDefault(plain(), 1),
    },
    outputs: {
      thrust: quantityOut('force', 'N'),
      torque: quantityOut('torque', 'N.m'),
      power: quantityOut('power', 'kW'),
    },
    calculate: drillingForce,
  }),
  defineCalculation({
    id: 'tapping-torque',
    title: 'Torque of tapping',
    group: 'cutting-forces',
    cautions: ['judgement'],
    inputs: {
      kc: quantity('stress'),
      pitch: quantity('length'),
      diameter: quantity('length'),
      wear,
      speed: optional(quantity('frequency')),
    },
    outputs: { torque: quantityOut('torque', 'N.m'), power: quantityOut('power', 'kW') },
    calculate: (input) => ({ powerW: undefined, ...tappingTorque(input) }),
  }),
  defineCalculation({
    id: 'removal-power',
    title: 'Power of a cut from its rate of removal',
    group: 'cutting-forces',
    cautions: ['judgement'],
    inputs: {
      specificPower: quantity('stress'),
      removalRate: quantity('flow'),
      feedFactor: withDefault(plain(), 1),
      wearFactor: withDefault(plain(), 1),
      efficiency: withDefault(fraction({ positive: true }), 1),
      cuttingSpeed: optional(quantity('speed', { positive: true })),
    },
    outputs: {
      cuttingPower: quantityOut('power', 'kW'),
      motorPower: quantityOut('power', 'kW'),
      tangentialForce: quantityOut('force', 'N'),
    },
    calculate: (input) => ({ tangentialForceN: undefined, ...removalPower(input) }),
  }),
  defineCalculation({
    id: 'clamp-slip-force',
    title: 'Clamping force against sliding',
    group: 'holding',
    cautions: ['judgement', 'safety-factor'],
    inputs: {
      cuttingForce: quantity('force'),
      safetyFactor: plain(),
      friction: plain({ positive: true }),
      frictionFaces: withDefault(count({ positive: true }), 2),
    },
    outputs: { clampForce: quantityOut('force', 'N') },
    calculate: clampSlipForce,
  }),
];
