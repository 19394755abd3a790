import type { QuantityKind } from '@repo/quantity';
import type { Direction, Usual } from './figure.types.js';

/** A figure of a component: its kind, `ratio` for a plain number, and the way in which it can only make a proof worse, where one reads it. */
export interface ComponentFigure {
  readonly kind: QuantityKind;
  readonly worse?: Direction;
  /** a plain number that is more does not exist */
  readonly most?: number;
  /**
   * Between what it usually lies, and the unit of both; common practice, no source. Wide on purpose: it tells bar from psi, mm from inches and a
   * slipped decimal point, and refuses nothing.
   */
  readonly usual?: Usual;
  /** the other figure of the component that it cannot be below, and must not equal where it lies above it */
  readonly notBelow?: string;
  readonly above?: string;
}

const rating = { ratedPressure: { kind: 'pressure', worse: 'lower', usual: [50, 1000, 'bar'] } } as const;

const cylinder = {
  ...rating,
  // More oil to move, and more force: times, volumes, areas and contact go different ways.
  bore: { kind: 'length', worse: 'either', notBelow: 'rod', usual: [5, 200, 'mm'] },
  rod: { kind: 'length', worse: 'either', usual: [3, 150, 'mm'] },
  stroke: { kind: 'length', worse: 'either', usual: [0.5, 500, 'mm'] },
  friction: { kind: 'force', worse: 'either', usual: [1, 5000, 'N'] },
  viscousFriction: { kind: 'damping', worse: 'either', usual: [1, 100_000, 'N.s/m'] },
  contactStiffness: { kind: 'stiffness', worse: 'either', usual: [100, 10_000_000, 'N/mm'] },
  springForce: { kind: 'force', worse: 'either', usual: [1, 20_000, 'N'] },
  springForceAtContact: { kind: 'force', worse: 'either', usual: [1, 20_000, 'N'] },
} as const;

/** What oil loses on its way through: a coefficient with its bore, or a line that loses as much. It slows what is too slow and what is too fast. */
const passage = {
  ...rating,
  lossCoefficient: { kind: 'ratio', worse: 'either', usual: [0.01, 1000, '1'] },
  equivalentLength: { kind: 'length', worse: 'either', usual: [0.01, 100, 'm'] },
  innerDiameter: { kind: 'length', worse: 'either', usual: [1, 50, 'mm'] },
} as const;

/** It pulls: oil clamps on its rod side (1), or pushes (0). */
const clampsOnRodSide = { kind: 'ratio', worse: 'either', usual: [1, 1, '1'] } as const;

/** By how much what it lets through may move from where it was set: of the air, or of the oil. */
const drift = { kind: 'pressure', worse: 'higher', usual: [0.5, 30, 'bar'] } as const;
const leastWorkingPressure = { kind: 'pressure', worse: 'higher', usual: [0.1, 400, 'bar'] } as const;
const passages = { kind: 'ratio', usual: [1, 24, '1'] } as const;

/** Kinds of component (terms of ISO 5598) and the figures that each may carry: contracts, forms, facts and words go by it. */
export const COMPONENT_FIGURES = {
  pump: {
    ...rating,
    // Stronger reaches further, both ways.
    pistonRatio: { kind: 'ratio', worse: 'either', usual: [5, 300, '1'] },
    stallEfficiency: { kind: 'ratio', worse: 'either', most: 1, usual: [0.5, 1, '1'] },
    freeFlow: { kind: 'flow', worse: 'either', usual: [0.1, 100, 'L/min'] },
    highestPressure: { kind: 'pressure', worse: 'either', usual: [50, 1000, 'bar'] },
    restartPressure: { kind: 'pressure', worse: 'lower', usual: [20, 1000, 'bar'] },
    restartTolerance: { kind: 'pressure', worse: 'higher', usual: [0.5, 60, 'bar'] },
  },
  reservoir: {
    usableVolume: { kind: 'volume', worse: 'lower', usual: [0.1, 100, 'L'] },
    freeVolume: { kind: 'volume', worse: 'lower', usual: [0.05, 100, 'L'] },
  },
  // It stands in the air: its figures are those of air.
  'pressure-regulator': {
    ratedPressure: { ...rating.ratedPressure, usual: [4, 25, 'bar'] },
    drift: { ...drift, usual: [0.01, 1, 'bar'] },
  },
  'reducing-valve': { ...rating, drift },
  'relief-valve': {
    ...rating,
    // It must open above the setting and below the ratings.
    openingPressure: { kind: 'pressure', worse: 'either', notBelow: 'reseatPressure', usual: [5, 1000, 'bar'] },
    fullFlowPressure: { kind: 'pressure', worse: 'higher', notBelow: 'openingPressure', usual: [5, 1000, 'bar'] },
    // It may open so much lower, and let through so much later.
    openingTolerance: { kind: 'pressure', worse: 'higher', usual: [0.2, 50, 'bar'] },
    // Once open it lets out oil until it shuts again.
    reseatPressure: { kind: 'pressure', worse: 'lower', usual: [5, 1000, 'bar'] },
  },
  'directional-valve': {
    ...rating,
    solenoids: { kind: 'ratio', usual: [1, 2, '1'] },
    coilPower: { kind: 'power', worse: 'higher', usual: [1, 100, 'W'] },
    // Its voltage must be met from both sides.
    coilVoltage: { kind: 'voltage', worse: 'either', usual: [5, 250, 'V'] },
    coilTolerance: { kind: 'ratio', worse: 'lower', usual: [0.02, 0.3, '1'] },
    coilDuty: { kind: 'ratio', worse: 'lower', usual: [0.1, 1, '1'] },
    // It slows what is too slow and what is too fast.
    ratedFlow: { kind: 'flow', worse: 'either', usual: [0.1, 200, 'L/min'] },
    lossAtRatedFlow: { kind: 'pressure', worse: 'either', usual: [0.1, 50, 'bar'] },
  },
  // A pilot opens it against what it shuts in, divided by its ratio.
  'check-valve': {
    ...passage,
    leastWorkingPressure,
    pilotRatio: { kind: 'ratio', worse: 'lower', usual: [1, 20, '1'] },
  },
  // Opened at a lower pressure, it lets the clamps load the supports sooner; at a higher one, they move later.
  'sequence-valve': {
    ...rating,
    leastWorkingPressure,
    openingPressure: { kind: 'pressure', worse: 'either', usual: [5, 1000, 'bar'] },
    openingTolerance: { kind: 'pressure', worse: 'higher', usual: [0.2, 50, 'bar'] },
  },
  // Held back, clamps move gently, and late.
  'flow-control-valve': {
    ...rating,
    flowToCylinders: { kind: 'flow', worse: 'either', usual: [0.05, 100, 'L/min'] },
    flowFromCylinders: { kind: 'flow', worse: 'either', usual: [0.05, 100, 'L/min'] },
  },
  'pressure-switch': {
    ...rating,
    accuracy: { kind: 'pressure', worse: 'higher', usual: [0.1, 20, 'bar'] },
    // It drops out at least so far below where it makes.
    deadband: { kind: 'pressure', worse: 'higher', usual: [0.5, 100, 'bar'] },
    delay: { kind: 'time', worse: 'higher', usual: [0.001, 5, 's'] },
  },
  gauge: {
    ...rating,
    // A wide one errs by more, a narrow one shows less.
    span: { kind: 'pressure', worse: 'either', usual: [2, 1600, 'bar'] },
    accuracyClass: { kind: 'ratio', worse: 'higher', usual: [0.1, 4, '1'] },
  },
  // A line holds oil and loses pressure: more of the one is less of the other.
  tube: {
    ...rating,
    outerDiameter: { kind: 'length', worse: 'either', usual: [3, 50, 'mm'] },
    wall: { kind: 'length', worse: 'either', usual: [0.3, 10, 'mm'] },
    length: { kind: 'length', worse: 'either', usual: [0.02, 100, 'm'] },
  },
  hose: {
    ...rating,
    burstPressure: { kind: 'pressure', worse: 'lower', above: 'ratedPressure', usual: [100, 4000, 'bar'] },
    innerDiameter: { kind: 'length', worse: 'either', usual: [1, 50, 'mm'] },
    length: { kind: 'length', worse: 'either', usual: [0.02, 100, 'm'] },
    expansionModulus: { kind: 'modulus', worse: 'either', usual: [100, 5000, 'MPa'] },
    temperatureDerating: { kind: 'ratio', worse: 'lower', most: 1, usual: [0.3, 1, '1'] },
    bendDerating: { kind: 'ratio', worse: 'lower', most: 1, usual: [0.3, 1, '1'] },
    ageDerating: { kind: 'ratio', worse: 'lower', most: 1, usual: [0.3, 1, '1'] },
    burstFlow: { kind: 'flow', worse: 'higher', usual: [0.1, 500, 'L/min'] },
  },
  fitting: passage,
  'quick-coupling': passage,
  'rotary-union': { ...passage, passages },
  'through-table-coupling': { ...passage, passages },
  manifold: passage,
  // Below its gas's pressure it holds no oil, and what was read with it says nothing.
  accumulator: {
    ...rating,
    size: { kind: 'volume', worse: 'higher', usual: [0.01, 50, 'L'] },
    prechargePressure: { kind: 'pressure', worse: 'higher', usual: [5, 400, 'bar'] },
  },
  filter: passage,
  'swing-clamp': {
    ...cylinder,
    ratedForce: { kind: 'force', worse: 'either', usual: [0.2, 500, 'kN'] },
    highestFlow: { kind: 'flow', worse: 'lower', usual: [0.05, 50, 'L/min'] },
    armPressure: { kind: 'pressure', worse: 'lower', usual: [10, 1000, 'bar'] },
  },
  'lever-clamp': {
    ...cylinder,
    ratedForce: { kind: 'force', worse: 'either', usual: [0.2, 500, 'kN'] },
    clampsOnRodSide,
  },
  cylinder: { ...cylinder, clampsOnRodSide },
  'work-support': {
    ...cylinder,
    // Rated lower, it bears less and carries sooner.
    ratedPressure: { kind: 'pressure', worse: 'either', usual: [50, 1000, 'bar'] },
    leastWorkingPressure,
    loadCapacity: { kind: 'force', worse: 'lower', usual: [0.2, 500, 'kN'] },
    highestLoad: { kind: 'force', worse: 'higher', usual: [0.05, 500, 'kN'] },
  },
  relay: {
    coilVoltage: { kind: 'voltage', usual: [5, 250, 'V'] },
    contactVoltage: { kind: 'voltage', usual: [5, 500, 'V'] },
  },
  'power-supply': {
    ratedPower: { kind: 'power', usual: [5, 5000, 'W'] },
    peakPower: { kind: 'power', usual: [5, 5000, 'W'] },
  },
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
