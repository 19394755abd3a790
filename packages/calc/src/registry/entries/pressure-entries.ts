import { cylinderForce } from '../../cylinders/cylinder-force.js';
import { cylinderPressure } from '../../cylinders/cylinder-pressure.js';
import { leverClampForce } from '../../cylinders/lever-clamp-force.js';
import { rodSideIntensification } from '../../cylinders/rod-side-intensification.js';
import { airDrivenPump } from '../../pump/air-driven-pump.js';
import { airPressureForSetting } from '../../pump/air-pressure-for-setting.js';
import { hoseRating } from '../../strength/hose-rating.js';
import { padPressure } from '../../strength/pad-pressure.js';
import { pressureChain } from '../../strength/pressure-chain.js';
import { tubeRating } from '../../strength/tube-rating.js';
import { switchWindow } from '../../switching/switch-window.js';
import { trappedOilThermalRise } from '../../trapped-oil/trapped-oil-thermal-rise.js';
import { defineCalculation } from '../define.js';
import { fraction, list, optional, plain, quantity, text, withDefault, word } from '../input-fields.js';
import { booleanOut, listOut, numberOut, objectOut, quantityOut, wordOut } from '../output-fields.js';

const noPressure = { value: 0, unit: 'bar' };
export const bore = quantity('length', { positive: true });
export const rod = quantity('length');

export const pressureEntries = [
  defineCalculation({
    id: 'cylinder-force',
    title: 'Force of a cylinder',
    group: 'cylinders-and-clamps',
    cautions: ['judgement', 'rated-pressure'],
    inputs: {
      bore,
      rod,
      pressure: quantity('pressure'),
      backPressure: withDefault(quantity('pressure'), noPressure),
      efficiency: withDefault(fraction(), 1),
    },
    outputs: {
      pistonArea: quantityOut('area', 'mm2'),
      annulusArea: quantityOut('area', 'mm2'),
      areaRatio: numberOut(),
      extendForce: quantityOut('force', 'N'),
      retractForce: quantityOut('force', 'N'),
    },
    calculate: cylinderForce,
  }),
  defineCalculation({
    id: 'cylinder-pressure',
    title: 'Pressure for a cylinder force',
    group: 'cylinders-and-clamps',
    cautions: ['judgement', 'rated-pressure'],
    inputs: {
      force: quantity('force'),
      bore,
      rod,
      backPressure: withDefault(quantity('pressure'), noPressure),
      efficiency: withDefault(fraction({ positive: true }), 1),
    },
    outputs: { extendPressure: quantityOut('pressure', 'bar'), retractPressure: quantityOut('pressure', 'bar') },
    calculate: cylinderPressure,
  }),
  defineCalculation({
    id: 'rod-side-intensification',
    title: 'Pressure behind a blocked rod port',
    group: 'cylinders-and-clamps',
    cautions: ['judgement', 'rated-pressure', 'trapped-pressure'],
    inputs: {
      bore,
      rod,
      pressure: quantity('pressure'),
      externalPull: withDefault(quantity('force'), { value: 0, unit: 'N' }),
    },
    outputs: { rodSidePressure: quantityOut('pressure', 'bar') },
    calculate: rodSideIntensification,
  }),
  defineCalculation({
    id: 'lever-clamp-force',
    title: 'Force of a lever clamp',
    group: 'cylinders-and-clamps',
    cautions: ['judgement'],
    inputs: {
      cylinderForce: quantity('force'),
      cylinderArm: quantity('length'),
      clampArm: quantity('length', { positive: true }),
      efficiency: withDefault(fraction(), 1),
      pivot: withDefault(word('between', 'end'), 'between'),
    },
    outputs: { clampForce: quantityOut('force', 'N'), pivotForce: quantityOut('force', 'N') },
    calculate: leverClampForce,
  }),
  defineCalculation({
    id: 'air-driven-pump',
    title: 'Stall pressure and flow of an air-driven pump',
    group: 'pump-and-air',
    cautions: ['judgement', 'rated-pressure'],
    inputs: {
      pistonRatio: plain(),
      airPressure: quantity('pressure'),
      freeFlow: optional(quantity('flow')),
      efficiency: withDefault(fraction(), 1),
      pressure: optional(quantity('pressure')),
    },
    outputs: { stallPressure: quantityOut('pressure', 'bar'), flow: quantityOut('flow', 'L/min') },
    calculate: (input) => ({ flowM3PerS: undefined, ...airDrivenPump(input) }),
  }),
  defineCalculation({
    id: 'air-pressure-for-setting',
    title: 'Air pressure for an oil pressure',
    group: 'pump-and-air',
    cautions: ['judgement', 'rated-pressure'],
    inputs: {
      pistonRatio: plain({ positive: true }),
      pressure: quantity('pressure'),
      efficiency: withDefault(fraction({ positive: true }), 1),
    },
    outputs: { airPressure: quantityOut('pressure', 'bar') },
    calculate: airPressureForSetting,
  }),
  defineCalculation({
    id: 'tube-rating',
    title: 'Pressure that a tube bears',
    group: 'strength',
    cautions: ['judgement', 'rated-pressure'],
    inputs: {
      outerDiameter: quantity('length', { positive: true }),
      wall: quantity('length', { positive: true }),
      allowableStress: quantity('stress', { positive: true }),
      method: word('thin', 'thick'),
      wallTolerance: withDefault(fraction({ belowOne: true }), 0),
      pressure: optional(quantity('pressure')),
    },
    outputs: {
      ratedPressure: quantityOut('pressure', 'bar'),
      hoopStress: quantityOut('stress', 'N/mm2'),
      ratio: numberOut(),
    },
    calculate: (input) => ({ hoopStressPa: undefined, ratio: undefined, ...tubeRating(input) }),
  }),
  defineCalculation({
    id: 'hose-rating',
    title: 'Working pressure of a hose',
    group: 'strength',
    cautions: ['judgement', 'rated-pressure', 'oil-injection'],
    inputs: {
      burstPressure: quantity('pressure'),
      safetyFactor: withDefault(plain({ positive: true }), 4),
    },
    outputs: { ratedPressure: quantityOut('pressure', 'bar') },
    calculate: hoseRating,
  }),
  defineCalculation({
    id: 'pressure-chain',
    title: 'Weakest part of a line',
    group: 'strength',
    cautions: ['judgement', 'rated-pressure'],
    inputs: {
      setting: quantity('pressure'),
      settingTolerance: quantity('pressure'),
      highest: quantity('pressure'),
      parts: list({
        name: text(),
        rating: quantity('pressure', { positive: true }),
        derating: withDefault(fraction({ positive: true }), 1),
      }),
    },
    outputs: {
      weakest: objectOut({
        name: wordOut(),
        rating: quantityOut('pressure', 'bar'),
        typed: quantityOut('pressure', 'bar'),
      }),
      settingRatio: numberOut(),
      highestRatio: numberOut(),
      adequate: booleanOut(),
      perPart: listOut({ name: wordOut(), settingRatio: numberOut(), highestRatio: numberOut() }),
    },
    calculate: pressureChain,
  }),
  defineCalculation({
    id: 'pad-pressure',
    title: 'Pressure of a pad on the workpiece',
    group: 'strength',
    cautions: ['judgement'],
    inputs: {
      form: word('sphere', 'cylinder'),
      radius: quantity('length', { positive: true }),
      length: optional(quantity('length', { positive: true })),
      force: quantity('force'),
      padModulus: quantity('modulus', { positive: true }),
      padPoisson: withDefault(fraction(), 0.3),
      workpieceModulus: quantity('modulus', { positive: true }),
      workpiecePoisson: withDefault(fraction(), 0.3),
      limit: optional(quantity('stress')),
    },
    outputs: {
      contactModulus: quantityOut('modulus', 'GPa'),
      peakPressure: quantityOut('stress', 'N/mm2'),
      meanPressure: quantityOut('stress', 'N/mm2'),
      halfWidth: quantityOut('length', 'mm'),
      forceAtLimit: quantityOut('force', 'N'),
    },
    calculate: (input) => ({ forceAtLimitN: undefined, ...padPressure(input) }),
  }),
  defineCalculation({
    id: 'switch-window',
    title: 'Where a pressure switch may be set',
    group: 'setting-and-switch',
    cautions: ['judgement', 'not-a-safety-function'],
    inputs: {
      required: quantity('pressure'),
      setting: quantity('pressure'),
      settingTolerance: quantity('pressure'),
      switchAccuracy: quantity('pressure'),
      deadband: quantity('pressure'),
      margin: withDefault(quantity('pressure'), noPressure),
      gaugeError: withDefault(quantity('pressure'), noPressure),
    },
    outputs: {
      fallingLowest: quantityOut('pressure', 'bar'),
      risingHighest: quantityOut('pressure', 'bar'),
      fallingHighest: quantityOut('pressure', 'bar'),
      feasible: booleanOut(),
      recommendedFalling: quantityOut('pressure', 'bar'),
      slack: quantityOut('pressure', 'bar'),
      fallingLowestRss: quantityOut('pressure', 'bar'),
      fallingHighestRss: quantityOut('pressure', 'bar'),
    },
    calculate: switchWindow,
  }),
  defineCalculation({
    id: 'trapped-oil-thermal-rise',
    title: 'Pressure of trapped oil that warms up',
    group: 'stiffness-and-trapped-oil',
    cautions: ['judgement', 'rated-pressure', 'trapped-pressure', 'stored-energy'],
    inputs: {
      temperatureRise: quantity('temperature-difference'),
      expansionCoefficient: quantity('thermal-expansion'),
      bulkModulus: quantity('modulus', { positive: true }),
      wallExpansion: withDefault(quantity('thermal-expansion'), { value: 0, unit: '1/K' }),
      containerModulus: optional(quantity('modulus', { positive: true })),
    },
    outputs: { pressureRise: quantityOut('pressure', 'bar') },
    calculate: trappedOilThermalRise,
  }),
];
