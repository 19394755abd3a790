import { BULK_MODULUS_WITHIN, type Figures } from './figure.types.js';

/** What is said of a power unit beside its name and its drive: the air that it gets, where its gauges are read, and its oil. */
export const POWER_UNIT_FIGURES = {
  /** lowest plant air at the regulator's inlet */
  plantAirLow: {
    usual: [2, 12, 'bar'],
    type: 'quantity',
    kind: 'pressure',
    // Lower air lifts less; but it also pushes clamps more gently.
    worse: 'either',
    column: { header: 'Plant air, lowest', synonyms: ['plant air low', 'lowest air'] },
    field: { group: 'main' },
  },
  /** highest pressure at the regulator's inlet: what the pump sees when the regulator is opened fully or creeps */
  plantAirHigh: {
    usual: [3, 16, 'bar'],
    type: 'quantity',
    kind: 'pressure',
    worse: 'higher',
    column: { header: 'Plant air, highest', synonyms: ['plant air high', 'highest air'] },
    field: { group: 'main' },
  },
  /** how far from 20 °C, for which its class is stated, a gauge is read at most */
  gaugeOffReference: {
    usual: [0.1, 40, 'K'],
    type: 'quantity',
    kind: 'temperature-difference',
    isZeroAllowed: true,
    worse: 'higher',
    column: { header: 'Gauges away from 20 °C by' },
    field: { group: 'main', unit: 'K' },
  },
  // Thick oil is slow, thin oil is fast: times against the speed of swing clamps. So is all else that is said of the oil.
  /** kinematic viscosity of the oil at 40 °C and at 100 °C, from its data sheet */
  oilViscosityAt40: {
    usual: [5, 500, 'mm2/s'],
    type: 'quantity',
    kind: 'kinematic-viscosity',
    worse: 'either',
    column: { header: 'Oil viscosity at 40 °C', synonyms: ['viscosity'] },
    field: { group: 'oil', unit: 'mm2/s' },
  },
  oilViscosityAt100: {
    usual: [1, 60, 'mm2/s'],
    type: 'quantity',
    kind: 'kinematic-viscosity',
    worse: 'either',
    column: { header: 'Oil viscosity at 100 °C' },
    field: { group: 'oil', unit: 'mm2/s' },
  },
  /** at 15 °C */
  oilDensity: {
    usual: [700, 1300, 'kg/m3'],
    type: 'quantity',
    kind: 'density',
    worse: 'either',
    column: { header: 'Oil density' },
    field: { group: 'oil', unit: 'kg/m3' },
  },
  oilBulkModulus: {
    type: 'quantity',
    kind: 'modulus',
    within: BULK_MODULUS_WITHIN,
    worse: 'either',
    column: { header: 'Oil bulk modulus' },
    field: { group: 'oil', unit: 'GPa' },
  },
  /** share of air in the oil at atmosphere */
  oilAirFraction: {
    type: 'number',
    least: 0,
    most: 0.5,
    worse: 'either',
    column: { header: 'Air in the oil' },
    field: { group: 'oil' },
  },
  /** coldest oil to be reckoned with */
  coldOilTemperature: {
    usual: [-30, 45, 'Cel'],
    type: 'quantity',
    kind: 'temperature',
    worse: 'either',
    column: { header: 'Coldest oil' },
    field: { group: 'oil', unit: 'Cel' },
  },
  workingOilTemperature: {
    usual: [0, 90, 'Cel'],
    type: 'quantity',
    kind: 'temperature',
    worse: 'either',
    column: { header: 'Oil at work', synonyms: ['oil temperature'] },
    field: { group: 'oil', unit: 'Cel' },
  },
} as const satisfies Figures;
