import { CIRCUIT_FIGURES } from '../figures/circuit-figures.js';
import type { Direction } from '../figures/figure.types.js';
import { COMPONENT_FIGURES, type ComponentFigure } from '../figures/component-figures.js';
import { ELEMENT_FIGURES, FIXTURE_FIGURES } from '../figures/fixture-figures.js';
import { MACHINE_FIGURES } from '../figures/machine-figures.js';
import { POWER_UNIT_FIGURES } from '../figures/power-unit-figures.js';
import { directionsOf } from '../figures/read-figures.js';

/** Of the figures of one kind of component. */
const worseOf = (figures: Readonly<Record<string, ComponentFigure>>): Readonly<Record<string, Direction>> =>
  Object.fromEntries(
    Object.entries(figures).flatMap(([name, { worse }]) => (worse === undefined ? [] : [[name, worse]])),
  );

/**
 * Which way each figure of a circuit can only make its proof worse.
 * A figure of a component is named by its kind, those of an element of a fixture by the element's kind.
 */
export const DIRECTIONS = {
  circuit: directionsOf(CIRCUIT_FIGURES),
  powerUnit: directionsOf(POWER_UNIT_FIGURES),
  settings: {
    // Between what holds the workpiece and what ratings allow.
    ...{ settingPa: 'either', setPointPa: 'either', resetPointPa: 'either', airPressurePa: 'either' },
    settingTolerancePa: 'higher',
    pumpRestartPa: 'lower',
    pumpRestartTolerancePa: 'higher',
  },
  readings: {
    // A reading holds for the setting, the air and the set point at which it was taken.
    ...{ settingPa: 'either', airPressurePa: 'either', setPointPa: 'either' },
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
  operation: {
    ...{ requiredPressurePa: 'higher', workpieceLimitPa: 'lower', workpieceNotLimiting: 'false' },
    ...{ specificForceSpreadPa: 'higher', frictionSpreadPa: 'higher', locatorLimitPa: 'lower' },
  },
  // Computed at a lower pressure, it has more of the clamps' force to add.
  supportLoad: { loadN: 'higher', atPressurePa: 'lower', loadPerPaN: 'higher' },
  // Where a switch senses and what stands beyond a shut-off decide which of two things happens.
  placed: { sensing: 'either', isBeyondShutOff: 'either' },
  // With another fixture over there what was read says nothing any more, good or bad.
  neighbour: { isFixtureAsRead: 'either' },
  fixture: directionsOf(FIXTURE_FIGURES),
  element: {
    clamp: { ...directionsOf(ELEMENT_FIGURES, 'clamp'), quantity: 'either' },
    support: { ...directionsOf(ELEMENT_FIGURES, 'support'), quantity: 'either' },
    locator: {},
  },
  component: Object.fromEntries(Object.entries(COMPONENT_FIGURES).map(([kind, figures]) => [kind, worseOf(figures)])),
  machine: directionsOf(MACHINE_FIGURES),
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
 * burst hose is a case that whoever types it wants survived, and its burst pressure one that its maker's rating has been made from; a fitting loses what is usual until it is typed, which is shown as well. A
 * gauge counts as read at 20 °C, for which its class is stated, until somebody types how far from it: shown too. A clamp pulls as its form
 * does until somebody says otherwise. A pilot opens its check valve where nothing warms up behind that, until somebody types a ratio. A reset point and a tolerance of the setting count as typed until the switch's own deadband, or the drift
 * of what makes the setting, says more; a relief and a sequence valve open where they are
 * said to until somebody types by how much they may be off: shown too.
 */
export const STANDS_IN_WITHOUT: ReadonlySet<string> = new Set([
  'component hose.temperatureDerating',
  'component hose.bendDerating',
  'component hose.ageDerating',
  'component check-valve.pilotRatio',
  'component hose.burstFlow',
  'component hose.burstPressure',
  'component fitting.lossCoefficient',
  'component fitting.equivalentLength',
  'component fitting.innerDiameter',
  'component pressure-switch.deadband',
  'component pressure-regulator.drift',
  'component reducing-valve.drift',
  'component relief-valve.openingTolerance',
  'component sequence-valve.openingTolerance',
  'element clamp.pulls',
  'powerUnit.gaugeOffReferenceK',
  'readings.settingPa',
  'readings.airPressurePa',
  'readings.setPointPa',
  'readings.clampTimeS',
  'readings.contactTimeS',
  'readings.unclampTimeS',
  'readings.timeToleranceS',
  'readings.oilTemperatureK',
]);
