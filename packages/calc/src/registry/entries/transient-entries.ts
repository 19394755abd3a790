import { clampSequence } from '../../filling/clamp-sequence.js';
import { defineCalculation } from '../define.js';
import { count, fraction, list, object, optional, plain, quantity, withDefault, word } from '../input-fields.js';
import { listOut, objectOut, quantityListOut, quantityOut } from '../output-fields.js';

const line = optional(object({ length: quantity('length'), innerDiameter: quantity('length', { positive: true }) }));
const resistance = optional(quantity('hydraulic-resistance'));

export const transientEntries = [
  defineCalculation({
    id: 'clamp-sequence',
    title: 'The clamping of a whole circuit',
    group: 'clamping-time',
    cautions: ['judgement', 'not-a-safety-function'],
    inputs: {
      pump: object({
        freeFlow: quantity('flow'),
        stallPressure: quantity('pressure', { positive: true }),
        pistonRatio: optional(plain()),
        airPressure: optional(quantity('pressure')),
      }),
      supplyResistance: resistance,
      supplyLine: line,
      returnResistance: resistance,
      returnLine: line,
      lineVolume: quantity('volume', { positive: true }),
      oil: object({
        bulkModulus: quantity('modulus', { positive: true }),
        airFraction: fraction(),
        polytropic: withDefault(plain({ positive: true }), 1.4),
        kinematicViscosity: optional(quantity('kinematic-viscosity')),
        density: optional(quantity('density')),
        hoseModulus: optional(quantity('modulus', { positive: true })),
      }),
      cylinders: list(
        {
          count: count({ positive: true }),
          bore: quantity('length', { positive: true }),
          rod: quantity('length'),
          stroke: quantity('length'),
          friction: quantity('force'),
          viscousFriction: quantity('damping', { positive: true }),
          contactStiffness: quantity('stiffness', { positive: true }),
        },
        { most: 200 },
      ),
      switchRising: quantity('pressure'),
      switchAt: withDefault(word('manifold', 'pump'), 'manifold'),
      startPressure: withDefault(quantity('pressure'), { value: 0, unit: 'bar' }),
      maximumTime: withDefault(quantity('time', { positive: true }), { value: 600, unit: 's' }),
    },
    alternatives: [
      { kind: 'one', of: [['supplyResistance'], ['supplyLine']] },
      { kind: 'one', of: [['returnResistance'], ['returnLine']] },
    ],
    outputs: {
      timeToFirstMotion: quantityOut('time', 's'),
      timeToContact: quantityOut('time', 's'),
      timeToSwitch: quantityOut('time', 's'),
      timeTo95: quantityOut('time', 's'),
      contacts: quantityListOut('time', 's'),
      oilVolume: quantityOut('volume', 'mL'),
      airUsed: quantityOut('volume', 'L'),
      series: objectOut({
        t: quantityListOut('time', 's'),
        p: quantityListOut('pressure', 'bar'),
        x: listOut({ position: quantityListOut('length', 'mm') }),
      }),
    },
    calculate: (input) => ({ airUsedM3: undefined, ...clampSequence(input) }),
  }),
];
