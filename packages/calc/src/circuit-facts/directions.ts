/**
 * Which way each figure of a circuit can only make its proof worse. `lower` and `higher` are of numbers, `true` and `false` of answers.
 * Everything else is `either`: it can make one check worse and another one better, which is said beside it.
 * A figure of a component is named by its kind, those of an element of a fixture by the element's kind.
 */
export type Direction = 'lower' | 'higher' | 'true' | 'false' | 'either';

const CYLINDER: Readonly<Record<string, Direction>> = {
  // More oil to move, and more force: times, volumes, areas and contact go different ways.
  ...{ bore: 'either', rod: 'either', stroke: 'either', friction: 'either', viscousFriction: 'either' },
  ...{ contactStiffness: 'either', springForce: 'either', ratedForce: 'either' },
};
const RATED: Readonly<Record<string, Direction>> = { ratedPressure: 'lower' };

export const DIRECTIONS = {
  circuit: {
    // Behind a reducing valve the pump's stall is cut off at the setting: slower, and gentler.
    hasReducingValve: 'either',
    canTrap: 'true',
    trappedTemperatureRiseK: 'higher',
    trappedNetExpansionPerK: 'higher',
    trappedBulkModulusPa: 'higher',
    unclampLineCanBlock: 'true',
    isCheckHeld: 'true',
    isDecoupled: 'true',
    timeWithoutSupplyS: 'higher',
    coolingWithoutSupplyK: 'higher',
    isProvedAgain: 'false',
    clampTimeAllowedS: 'lower',
    unclampTimeAllowedS: 'lower',
    needsOpenProof: 'true',
    hasOpenProof: 'false',
    // Against it springs return and clamps open; while clamping it holds them back.
    returnPressurePa: 'either',
  },
  powerUnit: {
    // Lower air lifts less; but it also pushes clamps more gently.
    plantAirLowPa: 'either',
    plantAirHighPa: 'higher',
    // Thick oil is slow, thin oil is fast: times against the speed of swing clamps.
    ...{ oilViscosityAt40M2PerS: 'either', oilViscosityAt100M2PerS: 'either', oilDensityKgPerM3: 'either' },
    ...{ oilBulkModulusPa: 'either', oilAirFraction: 'either', coldOilTemperatureK: 'either' },
    workingOilTemperatureK: 'either',
  },
  settings: {
    // Between what holds the workpiece and what ratings allow.
    ...{ settingPa: 'either', setPointPa: 'either', resetPointPa: 'either', airPressurePa: 'either' },
    settingTolerancePa: 'higher',
    pumpRestartPa: 'lower',
    pumpRestartTolerancePa: 'higher',
  },
  readings: {
    // A reading holds for the setting and the air at which it was taken.
    ...{ settingPa: 'either', airPressurePa: 'either' },
    decayPa: 'higher',
    decayDurationS: 'lower',
    gaugeSpanPa: 'higher',
    gaugeClass: 'higher',
    lowestWhileSharedPa: 'lower',
    // Later is slower, and further from the contact of the last clamp.
    clampTimeS: 'either',
    contactTimeS: 'higher',
    unclampTimeS: 'higher',
    timeToleranceS: 'higher',
    // Read with warmer oil it does not count, and what is computed stands in.
    oilTemperatureK: 'either',
  },
  operation: { requiredPressurePa: 'higher', workpieceLimitPa: 'lower', workpieceNotLimiting: 'false' },
  fixture: { ratedPressurePa: 'lower' },
  element: {
    clamp: {
      ...{
        ratedPressurePa: 'lower',
        leastWorkingPressurePa: 'higher',
        highestFlowM3PerS: 'lower',
        armPressurePa: 'lower',
      },
      ...{ ratedForceN: 'either', boreM: 'either', rodM: 'either', strokeM: 'either', springForceN: 'either' },
      ...{
        frictionN: 'either',
        viscousFrictionNsPerM: 'either',
        contactStiffnessNPerM: 'either',
        highestLoadN: 'either',
      },
      quantity: 'either',
    },
    support: {
      // It carries its rated load at its rated pressure: rated lower, it bears less and carries sooner.
      ratedPressurePa: 'either',
      ...{ leastWorkingPressurePa: 'higher', ratedForceN: 'lower', highestLoadN: 'higher' },
      ...{ boreM: 'either', rodM: 'either', strokeM: 'either', springForceN: 'either', frictionN: 'either' },
      ...{ viscousFrictionNsPerM: 'either', contactStiffnessNPerM: 'either', highestFlowM3PerS: 'either' },
      ...{ armPressurePa: 'either', quantity: 'either' },
    },
    locator: {},
  },
  component: {
    pump: {
      ...RATED,
      // Stronger reaches further, both ways.
      ...{ pistonRatio: 'either', stallEfficiency: 'either', freeFlow: 'either', highestPressure: 'either' },
      ...{ restartPressure: 'lower', restartTolerance: 'higher' },
    },
    'relief-valve': {
      ...RATED,
      // It must open above the setting and below the ratings.
      openingPressure: 'either',
      fullFlowPressure: 'higher',
    },
    'pressure-switch': { ...RATED, accuracy: 'higher', delay: 'higher' },
    gauge: { ...RATED, span: 'higher', accuracyClass: 'higher' },
    'directional-valve': {
      ...RATED,
      ...{ ratedFlow: 'either', lossAtRatedFlow: 'either', coilPower: 'higher', coilVoltage: 'either' },
      ...{ coilTolerance: 'lower', coilDuty: 'lower' },
    },
    tube: { ...RATED, outerDiameter: 'either', wall: 'either', length: 'either' },
    hose: {
      ...{ ...RATED, innerDiameter: 'either', length: 'either', expansionModulus: 'either', burstFlow: 'higher' },
      ...{ temperatureDerating: 'lower', bendDerating: 'lower', ageDerating: 'lower' },
    },
    reservoir: { usableVolume: 'lower', freeVolume: 'lower' },
    // Opened at a lower pressure, it lets the clamps load the supports sooner; at a higher one, they move later.
    'sequence-valve': { ...RATED, leastWorkingPressure: 'higher', openingPressure: 'either' },
    // Held back, clamps move gently, and late.
    'flow-control-valve': { ...RATED, flowToCylinders: 'either', flowFromCylinders: 'either' },
    fitting: { ...RATED, lossCoefficient: 'either', equivalentLength: 'either', innerDiameter: 'either' },
    'work-support': {
      ...CYLINDER,
      ...{ ratedPressure: 'either', leastWorkingPressure: 'higher', loadCapacity: 'lower', highestLoad: 'higher' },
    },
    'swing-clamp': { ...CYLINDER, ...RATED, highestFlow: 'lower', armPressure: 'lower' },
  },
  machine: {
    controlReactionS: 'higher',
    // Too high and too low are both wrong for a coil.
    controlVoltageV: 'either',
    ...{ supplyRatingW: 'lower', supplyPeakW: 'lower', controlLoadW: 'higher', controlLoadPeakW: 'higher' },
    ...{
      supplyReserveRatio: 'higher',
      controlTemperatureK: 'higher',
      hasSeparateCommons: 'false',
      outputRatingV: 'lower',
    },
  },
  signal: { suppressionVoltageV: 'higher', isPolarityRight: 'false', isHeldOn: 'either' },
  wire: {
    ...{ crossSectionM2: 'lower', lengthM: 'higher', insulationVoltageV: 'lower', protectionA: 'higher' },
    ...{ conductorLimitA: 'lower', highestInCableV: 'higher' },
  },
} as const satisfies Readonly<
  Record<string, Readonly<Record<string, Direction | Readonly<Record<string, Direction>>>>>
>;

/**
 * Figures that, taken away, can make a check read better: without them something else stands in. Readings of times go before what is
 * computed, and without one the transient says what it says. A derating counts as 1 until somebody types it, which is shown; the flow of a
 * burst hose is a case that whoever types it wants survived; a fitting loses what is usual until it is typed, which is shown as well.
 */
export const STANDS_IN_WITHOUT: ReadonlySet<string> = new Set([
  'component hose.temperatureDerating',
  'component hose.bendDerating',
  'component hose.ageDerating',
  'component hose.burstFlow',
  'component fitting.lossCoefficient',
  'component fitting.equivalentLength',
  'component fitting.innerDiameter',
  'readings.settingPa',
  'readings.airPressurePa',
  'readings.clampTimeS',
  'readings.contactTimeS',
  'readings.unclampTimeS',
  'readings.timeToleranceS',
  'readings.oilTemperatureK',
]);
