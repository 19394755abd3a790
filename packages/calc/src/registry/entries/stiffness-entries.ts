import { combinedBulkModulus } from '../../trapped-oil/combined-bulk-modulus.js';
import { compressionVolume } from '../../trapped-oil/compression-volume.js';
import { containerModulus } from '../../trapped-oil/container-modulus.js';
import { effectiveBulkModulus } from '../../trapped-oil/effective-bulk-modulus.js';
import { holdTime } from '../../trapped-oil/hold-time.js';
import { leakDown } from '../../trapped-oil/leak-down.js';
import { defineCalculation } from '../define.js';
import { fraction, list, object, optional, plain, quantity, withDefault, word } from '../input-fields.js';
import { quantityOut } from '../output-fields.js';

const bulkModulus = quantity('modulus', { positive: true });

export const stiffnessEntries = [
  defineCalculation({
    id: 'container-modulus',
    title: 'Stiffness of a tube against swelling',
    group: 'stiffness-and-trapped-oil',
    cautions: ['judgement'],
    inputs: {
      outerDiameter: quantity('length', { positive: true }),
      wall: quantity('length', { positive: true }),
      elasticModulus: quantity('modulus'),
      method: withDefault(word('thick', 'thin'), 'thick'),
      poisson: withDefault(fraction(), 0.3),
    },
    outputs: { containerModulus: quantityOut('modulus', 'MPa') },
    calculate: containerModulus,
  }),
  defineCalculation({
    id: 'effective-bulk-modulus',
    title: 'Stiffness of oil with air',
    group: 'stiffness-and-trapped-oil',
    cautions: ['judgement'],
    inputs: {
      oilModulus: bulkModulus,
      airFraction: fraction(),
      pressure: quantity('pressure'),
      polytropic: withDefault(plain({ positive: true }), 1.4),
      hoseModulus: optional(bulkModulus),
    },
    outputs: { bulkModulus: quantityOut('modulus', 'MPa') },
    calculate: effectiveBulkModulus,
  }),
  defineCalculation({
    id: 'combined-bulk-modulus',
    title: 'Stiffness of oil, gas, tubes and hoses',
    group: 'stiffness-and-trapped-oil',
    cautions: ['judgement'],
    inputs: {
      oilModulus: bulkModulus,
      volume: optional(quantity('volume', { positive: true })),
      gas: optional(object({ fraction: fraction(), modulus: bulkModulus })),
      containers: optional(list({ modulus: bulkModulus, share: withDefault(fraction(), 1) }, { least: 0 })),
      hoses: optional(
        list({ swell: quantity('volume'), pressure: quantity('pressure', { positive: true }) }, { least: 0 }),
      ),
    },
    outputs: { bulkModulus: quantityOut('modulus', 'MPa') },
    calculate: combinedBulkModulus,
  }),
  defineCalculation({
    id: 'compression-volume',
    title: 'Oil to pressurise a volume',
    group: 'stiffness-and-trapped-oil',
    cautions: ['judgement'],
    inputs: { volume: quantity('volume'), bulkModulus, pressure: quantity('pressure') },
    outputs: { oilVolume: quantityOut('volume', 'mL') },
    calculate: compressionVolume,
  }),
  defineCalculation({
    id: 'leak-down',
    title: 'Leak from a fall of pressure',
    group: 'stiffness-and-trapped-oil',
    cautions: ['judgement', 'oil-injection'],
    inputs: {
      volume: quantity('volume'),
      bulkModulus,
      pressureStart: quantity('pressure'),
      pressureEnd: quantity('pressure'),
      duration: quantity('time', { positive: true }),
      floorPressure: optional(quantity('pressure')),
    },
    outputs: {
      leakRate: quantityOut('flow', 'mL/min'),
      decayRate: quantityOut('pressure-rate', 'bar/min'),
      timeToFloor: quantityOut('time', 's'),
    },
    calculate: (input) => ({ timeToFloorS: undefined, ...leakDown(input) }),
  }),
  defineCalculation({
    id: 'hold-time',
    title: 'How long a shut-in circuit holds',
    group: 'stiffness-and-trapped-oil',
    cautions: ['judgement', 'trapped-pressure'],
    inputs: {
      volume: quantity('volume'),
      bulkModulus,
      leakRate: quantity('flow', { positive: true }),
      pressureStart: quantity('pressure', { positive: true }),
      pressureEnd: quantity('pressure'),
      law: withDefault(word('laminar', 'constant', 'orifice'), 'laminar'),
    },
    outputs: { time: quantityOut('time', 's') },
    calculate: holdTime,
  }),
];
