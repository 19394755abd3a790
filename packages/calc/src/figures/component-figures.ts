import type { QuantityKind } from '@repo/quantity';
import type { Direction } from './figure.types.js';

/** A figure of a component: its kind, `ratio` for a plain number, and the way in which it can only make a proof worse, where one reads it. */
export interface ComponentFigure {
  readonly kind: QuantityKind;
  readonly worse?: Direction;
  /** a plain number that is more does not exist */
  readonly most?: number;
  /** the other figure of the component that it cannot be below, and must not equal where it lies above it */
  readonly notBelow?: string;
  readonly above?: string;
}

const rating = { ratedPressure: { kind: 'pressure', worse: 'lower' } } as const;

const cylinder = {
  ...rating,
  // More oil to move, and more force: times, volumes, areas and contact go different ways.
  bore: { kind: 'length', worse: 'either' },
  rod: { kind: 'length', worse: 'either' },
  stroke: { kind: 'length', worse: 'either' },
  friction: { kind: 'force', worse: 'either' },
  viscousFriction: { kind: 'damping', worse: 'either' },
  contactStiffness: { kind: 'stiffness', worse: 'either' },
  springForce: { kind: 'force', worse: 'either' },
  springForceAtContact: { kind: 'force', worse: 'either' },
} as const;

/** What oil loses on its way through: a coefficient with its bore, or a line that loses as much. It slows what is too slow and what is too fast. */
const passage = {
  ...rating,
  lossCoefficient: { kind: 'ratio', worse: 'either' },
  equivalentLength: { kind: 'length', worse: 'either' },
  innerDiameter: { kind: 'length', worse: 'either' },
} as const;

/** It pulls: oil clamps on its rod side (1), or pushes (0). */
const clampsOnRodSide = { kind: 'ratio', worse: 'either' } as const;

/** By how much what it lets through may move from where it was set: of the air, or of the oil. */
const drift = { kind: 'pressure', worse: 'higher' } as const;
const leastWorkingPressure = { kind: 'pressure', worse: 'higher' } as const;
const passages = { kind: 'ratio' } as const;

/** Kinds of component (terms of ISO 5598) and the figures that each may carry: contracts, forms, facts and words go by it. */
export const COMPONENT_FIGURES = {
  pump: {
    ...rating,
    // Stronger reaches further, both ways.
    pistonRatio: { kind: 'ratio', worse: 'either' },
    stallEfficiency: { kind: 'ratio', worse: 'either', most: 1 },
    freeFlow: { kind: 'flow', worse: 'either' },
    highestPressure: { kind: 'pressure', worse: 'either' },
    restartPressure: { kind: 'pressure', worse: 'lower' },
    restartTolerance: { kind: 'pressure', worse: 'higher' },
  },
  reservoir: {
    usableVolume: { kind: 'volume', worse: 'lower' },
    freeVolume: { kind: 'volume', worse: 'lower' },
  },
  'pressure-regulator': { ...rating, drift },
  'reducing-valve': { ...rating, drift },
  'relief-valve': {
    ...rating,
    // It must open above the setting and below the ratings.
    openingPressure: { kind: 'pressure', worse: 'either' },
    fullFlowPressure: { kind: 'pressure', worse: 'higher', notBelow: 'openingPressure' },
    // It may open so much lower, and let through so much later.
    openingTolerance: { kind: 'pressure', worse: 'higher' },
  },
  'directional-valve': {
    ...rating,
    solenoids: { kind: 'ratio' },
    coilPower: { kind: 'power', worse: 'higher' },
    // Its voltage must be met from both sides.
    coilVoltage: { kind: 'voltage', worse: 'either' },
    coilTolerance: { kind: 'ratio', worse: 'lower' },
    coilDuty: { kind: 'ratio', worse: 'lower' },
    // It slows what is too slow and what is too fast.
    ratedFlow: { kind: 'flow', worse: 'either' },
    lossAtRatedFlow: { kind: 'pressure', worse: 'either' },
  },
  'check-valve': { ...passage, leastWorkingPressure },
  // Opened at a lower pressure, it lets the clamps load the supports sooner; at a higher one, they move later.
  'sequence-valve': { ...rating, leastWorkingPressure, openingPressure: { kind: 'pressure', worse: 'either' } },
  // Held back, clamps move gently, and late.
  'flow-control-valve': {
    ...rating,
    flowToCylinders: { kind: 'flow', worse: 'either' },
    flowFromCylinders: { kind: 'flow', worse: 'either' },
  },
  'pressure-switch': {
    ...rating,
    accuracy: { kind: 'pressure', worse: 'higher' },
    // It drops out at least so far below where it makes.
    deadband: { kind: 'pressure', worse: 'higher' },
    delay: { kind: 'time', worse: 'higher' },
  },
  gauge: { ...rating, span: { kind: 'pressure', worse: 'higher' }, accuracyClass: { kind: 'ratio', worse: 'higher' } },
  // A line holds oil and loses pressure: more of the one is less of the other.
  tube: {
    ...rating,
    outerDiameter: { kind: 'length', worse: 'either' },
    wall: { kind: 'length', worse: 'either' },
    length: { kind: 'length', worse: 'either' },
  },
  hose: {
    ...rating,
    burstPressure: { kind: 'pressure', above: 'ratedPressure' },
    innerDiameter: { kind: 'length', worse: 'either' },
    length: { kind: 'length', worse: 'either' },
    expansionModulus: { kind: 'modulus', worse: 'either' },
    temperatureDerating: { kind: 'ratio', worse: 'lower', most: 1 },
    bendDerating: { kind: 'ratio', worse: 'lower', most: 1 },
    ageDerating: { kind: 'ratio', worse: 'lower', most: 1 },
    burstFlow: { kind: 'flow', worse: 'higher' },
  },
  fitting: passage,
  'quick-coupling': passage,
  'rotary-union': { ...passage, passages },
  'through-table-coupling': { ...passage, passages },
  manifold: passage,
  // Below its gas's pressure it holds no oil, and what was read with it says nothing.
  accumulator: {
    ...rating,
    size: { kind: 'volume', worse: 'higher' },
    prechargePressure: { kind: 'pressure', worse: 'higher' },
  },
  filter: passage,
  'swing-clamp': {
    ...cylinder,
    ratedForce: { kind: 'force', worse: 'either' },
    highestFlow: { kind: 'flow', worse: 'lower' },
    armPressure: { kind: 'pressure', worse: 'lower' },
  },
  'lever-clamp': { ...cylinder, ratedForce: { kind: 'force', worse: 'either' }, clampsOnRodSide },
  cylinder: { ...cylinder, clampsOnRodSide },
  'work-support': {
    ...cylinder,
    // Rated lower, it bears less and carries sooner.
    ratedPressure: { kind: 'pressure', worse: 'either' },
    leastWorkingPressure,
    loadCapacity: { kind: 'force', worse: 'lower' },
    highestLoad: { kind: 'force', worse: 'higher' },
  },
  relay: { coilVoltage: { kind: 'voltage' }, contactVoltage: { kind: 'voltage' } },
  'power-supply': { ratedPower: { kind: 'power' }, peakPower: { kind: 'power' } },
} as const satisfies Readonly<Record<string, Readonly<Record<string, ComponentFigure>>>>;

type Kinds = typeof COMPONENT_FIGURES;
/** Kinds of component, in the terms of ISO 5598. */
export type ComponentKind = keyof Kinds;
type NameOf<F> = F extends unknown ? keyof F & string : never;
type ReadNameOf<F> = F extends unknown
  ? { [N in keyof F & string]: F[N] extends { worse: unknown } ? N : never }[keyof F & string]
  : never;
/** The name of a figure that some kind of component has. */
export type ComponentFigureName = NameOf<Kinds[ComponentKind]>;
/** The name of one that proofs read. */
export type ReadComponentFigureName = ReadNameOf<Kinds[ComponentKind]>;
