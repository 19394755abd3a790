import type { ComponentKind } from '@repo/calc';
import type { QuantityKind } from '@repo/quantity';
import { z } from 'zod';

/** A figure of a component: its quantity kind, or `ratio` for a plain number. */
export type FigureKind = QuantityKind | 'ratio';

const rating = { ratedPressure: 'pressure' } as const;

/** What oil loses on its way through: a coefficient with its bore, or a line that loses as much. */
const passage = {
  ...rating,
  lossCoefficient: 'ratio',
  equivalentLength: 'length',
  innerDiameter: 'length',
} as const;

const cylinder = {
  ...rating,
  bore: 'length',
  rod: 'length',
  stroke: 'length',
  friction: 'force',
  viscousFriction: 'damping',
  contactStiffness: 'stiffness',
  springForce: 'force',
} as const;

/** Kinds of component (terms of ISO 5598) and the figures that each may carry. */
export const COMPONENT_FIGURES = {
  pump: {
    ...rating,
    pistonRatio: 'ratio',
    stallEfficiency: 'ratio',
    freeFlow: 'flow',
    highestPressure: 'pressure',
    restartPressure: 'pressure',
    restartTolerance: 'pressure',
  },
  reservoir: { usableVolume: 'volume', freeVolume: 'volume' },
  'pressure-regulator': { ...rating, drift: 'pressure' },
  'reducing-valve': { ...rating, drift: 'pressure' },
  'relief-valve': { ...rating, openingPressure: 'pressure', fullFlowPressure: 'pressure' },
  'directional-valve': {
    ...rating,
    solenoids: 'ratio',
    coilPower: 'power',
    coilVoltage: 'voltage',
    coilTolerance: 'ratio',
    coilDuty: 'ratio',
    ratedFlow: 'flow',
    lossAtRatedFlow: 'pressure',
  },
  'check-valve': { ...passage, leastWorkingPressure: 'pressure' },
  'sequence-valve': { ...rating, leastWorkingPressure: 'pressure', openingPressure: 'pressure' },
  'flow-control-valve': { ...rating, flowToCylinders: 'flow', flowFromCylinders: 'flow' },
  'pressure-switch': { ...rating, accuracy: 'pressure', deadband: 'pressure', delay: 'time' },
  gauge: { ...rating, span: 'pressure', accuracyClass: 'ratio' },
  tube: { ...rating, outerDiameter: 'length', wall: 'length', length: 'length' },
  hose: {
    ...rating,
    burstPressure: 'pressure',
    innerDiameter: 'length',
    length: 'length',
    expansionModulus: 'modulus',
    temperatureDerating: 'ratio',
    bendDerating: 'ratio',
    ageDerating: 'ratio',
    burstFlow: 'flow',
  },
  fitting: { ...passage },
  'quick-coupling': { ...passage },
  'rotary-union': { ...passage, passages: 'ratio' },
  'through-table-coupling': { ...passage, passages: 'ratio' },
  manifold: { ...passage },
  accumulator: { ...rating, size: 'volume', prechargePressure: 'pressure' },
  filter: { ...passage },
  'swing-clamp': { ...cylinder, ratedForce: 'force', highestFlow: 'flow', armPressure: 'pressure' },
  'lever-clamp': { ...cylinder, ratedForce: 'force', clampsOnRodSide: 'ratio' },
  cylinder: { ...cylinder, clampsOnRodSide: 'ratio' },
  'work-support': { ...cylinder, leastWorkingPressure: 'pressure', loadCapacity: 'force', highestLoad: 'force' },
  relay: { coilVoltage: 'voltage', contactVoltage: 'voltage' },
  'power-supply': { ratedPower: 'power', peakPower: 'power' },
} as const satisfies Record<ComponentKind, Record<string, FigureKind>>;

export type { ComponentKind };
export const COMPONENT_KINDS = Object.keys(COMPONENT_FIGURES) as [ComponentKind, ...ComponentKind[]];
export const componentKindSchema = z.enum(COMPONENT_KINDS);

/** Kind of one figure of one kind of component, or undefined where there is no such figure. */
export const figureKindOf = (kind: ComponentKind, figure: string): FigureKind | undefined =>
  (COMPONENT_FIGURES[kind] as Record<string, FigureKind>)[figure];
