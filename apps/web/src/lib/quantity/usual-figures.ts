import type { ComponentFigureName, ComponentKind } from '@repo/calc/figures';
import type { Usual } from './figure-doubts';

const usual = (low: number, high: number, unit: string): Usual => ({ low, high, unit });
const pressures = usual(50, 1000, 'bar');
const forces = usual(0.2, 500, 'kN');

/**
 * Between what the figures of hydraulic workholding usually lie; common practice, no source. Wide on purpose: they tell bar from psi, mm
 * from inches and a slipped decimal point, and refuse nothing.
 */
const OF_COMPONENTS: Readonly<Record<ComponentFigureName, Usual>> = {
  ratedPressure: pressures,
  pistonRatio: usual(5, 300, '1'),
  stallEfficiency: usual(0.5, 1, '1'),
  freeFlow: usual(0.1, 100, 'L/min'),
  highestPressure: pressures,
  restartPressure: usual(20, 1000, 'bar'),
  restartTolerance: usual(0.5, 60, 'bar'),
  usableVolume: usual(0.1, 100, 'L'),
  freeVolume: usual(0.05, 100, 'L'),
  drift: usual(0.5, 30, 'bar'),
  openingPressure: usual(5, 1000, 'bar'),
  fullFlowPressure: usual(5, 1000, 'bar'),
  openingTolerance: usual(0.2, 50, 'bar'),
  solenoids: usual(1, 2, '1'),
  coilPower: usual(1, 100, 'W'),
  coilVoltage: usual(5, 250, 'V'),
  leastWorkingPressure: usual(0.1, 400, 'bar'),
  accuracy: usual(0.1, 20, 'bar'),
  deadband: usual(0.5, 100, 'bar'),
  delay: usual(0.001, 5, 's'),
  span: usual(2, 1600, 'bar'),
  accuracyClass: usual(0.1, 4, '1'),
  outerDiameter: usual(3, 50, 'mm'),
  wall: usual(0.3, 10, 'mm'),
  length: usual(0.02, 100, 'm'),
  burstPressure: usual(100, 4000, 'bar'),
  innerDiameter: usual(1, 50, 'mm'),
  lossCoefficient: usual(0.01, 1000, '1'),
  equivalentLength: usual(0.01, 100, 'm'),
  flowToCylinders: usual(0.05, 100, 'L/min'),
  flowFromCylinders: usual(0.05, 100, 'L/min'),
  temperatureDerating: usual(0.3, 1, '1'),
  bendDerating: usual(0.3, 1, '1'),
  ageDerating: usual(0.3, 1, '1'),
  burstFlow: usual(0.1, 500, 'L/min'),
  clampsOnRodSide: usual(1, 1, '1'),
  passages: usual(1, 24, '1'),
  size: usual(0.01, 50, 'L'),
  prechargePressure: usual(5, 400, 'bar'),
  bore: usual(5, 200, 'mm'),
  rod: usual(3, 150, 'mm'),
  stroke: usual(0.5, 500, 'mm'),
  ratedForce: forces,
  loadCapacity: forces,
  coilTolerance: usual(0.02, 0.3, '1'),
  coilDuty: usual(0.1, 1, '1'),
  ratedFlow: usual(0.1, 200, 'L/min'),
  lossAtRatedFlow: usual(0.1, 50, 'bar'),
  expansionModulus: usual(100, 5000, 'MPa'),
  friction: usual(1, 5000, 'N'),
  viscousFriction: usual(1, 100_000, 'N.s/m'),
  contactStiffness: usual(100, 10_000_000, 'N/mm'),
  springForce: usual(1, 20_000, 'N'),
  springForceAtContact: usual(1, 20_000, 'N'),
  highestFlow: usual(0.05, 50, 'L/min'),
  armPressure: usual(10, 1000, 'bar'),
  highestLoad: usual(0.05, 500, 'kN'),
  contactVoltage: usual(5, 500, 'V'),
  peakPower: usual(5, 5000, 'W'),
  ratedPower: usual(5, 5000, 'W'),
};

/** A regulator stands in the air; its figures are those of air. */
const OF_AIR: Partial<Record<ComponentFigureName, Usual>> = {
  ratedPressure: usual(4, 25, 'bar'),
  drift: usual(0.01, 1, 'bar'),
};

export const usualOfComponent = (kind: ComponentKind, name: ComponentFigureName): Usual =>
  (kind === 'pressure-regulator' ? OF_AIR[name] : undefined) ?? OF_COMPONENTS[name];

/** The same of what a fixture's elements alone have; common practice, no source. */
const OF_ELEMENTS = {
  padRadius: usual(1, 500, 'mm'),
  padLength: usual(1, 200, 'mm'),
  contactModulus: usual(10, 500, 'GPa'),
  surfacePressureLimit: usual(50, 50_000, 'bar'),
  forceLimit: forces,
  frictionCoefficient: usual(0.03, 0.8, '1'),
} as const;

const isIn = <T extends object>(table: T, name: string): name is keyof T & string => name in table;

/** Of an element of a fixture, as of a component of that sort. */
export function usualOfElement(name: string): Usual | null {
  if (isIn(OF_ELEMENTS, name)) return OF_ELEMENTS[name];
  return isIn(OF_COMPONENTS, name) ? OF_COMPONENTS[name] : null;
}
