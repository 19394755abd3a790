import { accumulatorDelivery } from '../../accumulators/accumulator-delivery.js';
import { accumulatorVolume } from '../../accumulators/accumulator-volume.js';
import { prechargeAtTemperature } from '../../accumulators/precharge-at-temperature.js';
import { cylinderSpeed } from '../../cylinders/cylinder-speed.js';
import { swingClampForce } from '../../cylinders/swing-clamp-force.js';
import { pressuriseTime } from '../../filling/pressurise-time.js';
import { frictionFactor } from '../../lines/friction-factor.js';
import { hydrostaticPressure } from '../../lines/hydrostatic-pressure.js';
import { lineLoss } from '../../lines/line-loss.js';
import { valveLoss } from '../../lines/valve-loss.js';
import { oilDensity } from '../../oil/oil-density.js';
import { oilViscosity } from '../../oil/oil-viscosity.js';
import { viscosityIndex } from '../../oil/viscosity-index.js';
import { airConsumption } from '../../pump/air-consumption.js';
import { thickCylinderStress } from '../../strength/thick-cylinder-stress.js';
import { tubeWall } from '../../strength/tube-wall.js';
import { defineCalculation } from '../define.js';
import { fraction, optional, plain, quantity, withDefault, word } from '../input-fields.js';
import { numberOut, quantityOut, wordOut } from '../output-fields.js';
import { bore, rod } from './pressure-entries.js';

const polytropic = withDefault(plain({ positive: true }), 1.4);
const accumulatorPressures = {
  prechargePressure: quantity('pressure'),
  pressureLow: quantity('pressure'),
  pressureHigh: quantity('pressure'),
};
const REGIMES = ['laminar', 'transitional', 'turbulent'] as const;

export const fluidEntries = [
  defineCalculation({
    id: 'cylinder-speed',
    title: 'Speed of a cylinder',
    group: 'cylinders-and-clamps',
    cautions: ['judgement'],
    inputs: { flow: quantity('flow'), bore, rod },
    outputs: {
      extendSpeed: quantityOut('speed', 'm/s'),
      retractSpeed: quantityOut('speed', 'm/s'),
      extendReturnFlow: quantityOut('flow', 'L/min'),
      retractReturnFlow: quantityOut('flow', 'L/min'),
    },
    calculate: cylinderSpeed,
  }),
  defineCalculation({
    id: 'swing-clamp-force',
    title: 'Force of a swing clamp',
    group: 'cylinders-and-clamps',
    cautions: ['judgement', 'component-chart-wins'],
    inputs: {
      pressure: quantity('pressure'),
      bore,
      rod,
      armLength: quantity('length'),
      guideSpacing: quantity('length', { positive: true }),
      guideFriction: plain(),
    },
    outputs: {
      clampForce: quantityOut('force', 'N'),
      bearingForce: quantityOut('force', 'N'),
      bendingMoment: quantityOut('torque', 'N.m'),
    },
    calculate: swingClampForce,
  }),
  defineCalculation({
    id: 'air-consumption',
    title: 'Air that a pump uses',
    group: 'pump-and-air',
    cautions: ['judgement'],
    inputs: { pistonRatio: plain(), airPressure: quantity('pressure'), oilVolume: quantity('volume') },
    outputs: { freeAir: quantityOut('volume', 'L') },
    calculate: airConsumption,
  }),
  defineCalculation({
    id: 'oil-viscosity',
    title: 'Viscosity of an oil at a temperature',
    group: 'lines-and-oil',
    cautions: ['judgement'],
    inputs: {
      grade: optional(plain({ positive: true })),
      viscosityIndex: withDefault(plain(), 95),
      kinematicAt40: optional(quantity('kinematic-viscosity', { positive: true })),
      kinematicAt100: optional(quantity('kinematic-viscosity', { positive: true })),
      temperature: quantity('temperature'),
    },
    alternatives: [
      { kind: 'one', of: [['grade'], ['kinematicAt40', 'kinematicAt100']] },
      { kind: 'most', of: [['viscosityIndex'], ['kinematicAt40', 'kinematicAt100']] },
    ],
    outputs: {
      kinematicViscosity: quantityOut('kinematic-viscosity', 'mm2/s'),
      kinematicAt40: quantityOut('kinematic-viscosity', 'mm2/s'),
      kinematicAt100: quantityOut('kinematic-viscosity', 'mm2/s'),
    },
    calculate: oilViscosity,
  }),
  defineCalculation({
    id: 'viscosity-index',
    title: 'Viscosity index of an oil',
    group: 'lines-and-oil',
    cautions: ['judgement'],
    inputs: {
      kinematicAt40: quantity('kinematic-viscosity', { positive: true }),
      kinematicAt100: quantity('kinematic-viscosity', { positive: true }),
    },
    outputs: { viscosityIndex: numberOut() },
    calculate: viscosityIndex,
  }),
  defineCalculation({
    id: 'oil-density',
    title: 'Density of an oil at a temperature',
    group: 'lines-and-oil',
    cautions: ['judgement'],
    inputs: {
      densityAt15: quantity('density'),
      expansionCoefficient: quantity('thermal-expansion'),
      temperature: quantity('temperature'),
    },
    outputs: { density: quantityOut('density', 'kg/m3') },
    calculate: oilDensity,
  }),
  defineCalculation({
    id: 'friction-factor',
    title: 'Friction factor of a line',
    group: 'lines-and-oil',
    cautions: ['judgement'],
    inputs: {
      reynolds: plain({ positive: true }),
      relativeRoughness: withDefault(fraction({ belowOne: true }), 0),
      method: withDefault(word('line', 'colebrook', 'swamee-jain', 'blasius'), 'line'),
    },
    outputs: { frictionFactor: numberOut(), regime: wordOut(...REGIMES) },
    calculate: frictionFactor,
  }),
  defineCalculation({
    id: 'line-loss',
    title: 'Loss of pressure in a line',
    group: 'lines-and-oil',
    cautions: ['judgement'],
    inputs: {
      length: quantity('length'),
      innerDiameter: quantity('length', { positive: true }),
      flow: quantity('flow', { positive: true }),
      kinematicViscosity: quantity('kinematic-viscosity', { positive: true }),
      density: quantity('density'),
      roughness: withDefault(quantity('length'), { value: 0.0015, unit: 'mm' }),
      minorLossSum: withDefault(plain(), 0),
    },
    outputs: {
      velocity: quantityOut('speed', 'm/s'),
      reynolds: numberOut(),
      regime: wordOut(...REGIMES),
      frictionFactor: numberOut(),
      pressureLoss: quantityOut('pressure', 'bar'),
    },
    calculate: lineLoss,
  }),
  defineCalculation({
    id: 'valve-loss',
    title: 'Loss of pressure in a valve',
    group: 'lines-and-oil',
    cautions: ['judgement'],
    inputs: { kv: quantity('flow', { positive: true }), flow: quantity('flow'), density: quantity('density') },
    outputs: { pressureLoss: quantityOut('pressure', 'bar'), cv: numberOut() },
    calculate: valveLoss,
  }),
  defineCalculation({
    id: 'hydrostatic-pressure',
    title: 'Pressure of a column of oil',
    group: 'lines-and-oil',
    cautions: ['judgement'],
    inputs: { height: quantity('length'), density: quantity('density') },
    outputs: { pressure: quantityOut('pressure', 'bar') },
    calculate: hydrostaticPressure,
  }),
  defineCalculation({
    id: 'tube-wall',
    title: 'Wall that a tube needs',
    group: 'strength',
    cautions: ['judgement', 'rated-pressure'],
    inputs: {
      pressure: quantity('pressure'),
      outerDiameter: quantity('length'),
      allowableStress: quantity('stress', { positive: true }),
      quality: withDefault(fraction({ positive: true }), 1),
      weldFactor: withDefault(fraction({ positive: true }), 1),
      coefficient: withDefault(fraction(), 0.4),
    },
    outputs: { minimumWall: quantityOut('length', 'mm') },
    calculate: tubeWall,
  }),
  defineCalculation({
    id: 'thick-cylinder-stress',
    title: 'Stresses of a thick tube',
    group: 'strength',
    cautions: ['judgement', 'rated-pressure'],
    inputs: {
      innerDiameter: quantity('length'),
      outerDiameter: quantity('length', { positive: true }),
      pressure: quantity('pressure'),
      externalPressure: withDefault(quantity('pressure'), { value: 0, unit: 'bar' }),
    },
    outputs: {
      hoopInner: quantityOut('stress', 'N/mm2'),
      hoopOuter: quantityOut('stress', 'N/mm2'),
      axial: quantityOut('stress', 'N/mm2'),
    },
    calculate: thickCylinderStress,
  }),
  defineCalculation({
    id: 'accumulator-volume',
    title: 'Size of an accumulator',
    group: 'accumulators',
    cautions: ['judgement', 'stored-energy', 'rated-pressure'],
    inputs: { oilVolume: quantity('volume'), ...accumulatorPressures, polytropic },
    outputs: { size: quantityOut('volume', 'L') },
    calculate: accumulatorVolume,
  }),
  defineCalculation({
    id: 'accumulator-delivery',
    title: 'Oil that an accumulator gives',
    group: 'accumulators',
    cautions: ['judgement', 'stored-energy', 'rated-pressure'],
    inputs: {
      size: quantity('volume'),
      ...accumulatorPressures,
      polytropic,
      leakRate: optional(quantity('flow', { positive: true })),
    },
    outputs: {
      oilAtLow: quantityOut('volume', 'L'),
      oilAtHigh: quantityOut('volume', 'L'),
      oilVolume: quantityOut('volume', 'mL'),
      holdTime: quantityOut('time', 'min'),
    },
    calculate: (input) => ({ holdTimeS: undefined, ...accumulatorDelivery(input) }),
  }),
  defineCalculation({
    id: 'precharge-at-temperature',
    title: 'Precharge at another temperature',
    group: 'accumulators',
    cautions: ['judgement', 'stored-energy'],
    inputs: {
      prechargePressure: quantity('pressure'),
      temperature: quantity('temperature'),
      newTemperature: quantity('temperature'),
    },
    outputs: { pressure: quantityOut('pressure', 'bar') },
    calculate: prechargeAtTemperature,
  }),
  defineCalculation({
    id: 'pressurise-time',
    title: 'Time to fill and pressurise',
    group: 'clamping-time',
    cautions: ['judgement'],
    inputs: {
      volume: quantity('volume'),
      bulkModulus: quantity('modulus', { positive: true }),
      freeFlow: quantity('flow', { positive: true }),
      stallPressure: quantity('pressure', { positive: true }),
      targetPressure: quantity('pressure'),
      startPressure: withDefault(quantity('pressure'), { value: 0, unit: 'bar' }),
      airFraction: withDefault(fraction(), 0),
      polytropic,
      strokeVolume: withDefault(quantity('volume'), { value: 0, unit: 'mL' }),
    },
    outputs: {
      time: quantityOut('time', 's'),
      fillTime: quantityOut('time', 's'),
      totalTime: quantityOut('time', 's'),
    },
    calculate: pressuriseTime,
  }),
];
