import {
  toCylinderPressure,
  toManifoldPressure,
  toPressureAt,
  type CircuitGroup,
  type ClampCircuit,
  type Place,
} from '../filling/clamp-circuit.js';
import type { Conditions, Group, Known, Way } from './actuation-figures.js';
import type { ActuationInput, PressuresOnTheWay } from './actuation.types.js';
import { toLosses, toSides, type CircuitLosses } from './circuit-losses.js';
import { sumOf, toVolume } from './figures.js';

/** Air that is pressed together within seconds: adiabatic. */
const POLYTROPIC = 1.4;

/** Pressure at which what stands before a group on its way has opened; null: nothing does. Clamps alone lie behind a valve of the clamp line. */
function toOpening({ feed: { opensAtPa } }: Known, { isSequenced }: Group, way: Way): number | null {
  const ofLine = way === 'clamp' && !isSequenced ? null : opensAtPa[way];
  return ofLine === null && opensAtPa.supply === null ? null : Math.max(ofLine ?? 0, opensAtPa.supply ?? 0);
}

/** A group of cylinders as the transient takes it, one way. */
function toGroup(known: Known, group: Group, way: Way): CircuitGroup {
  const isSpring = group.acting === 'single';
  const [drive, back] = toSides(group, way);
  // A spring pushes back what oil moved, into the return; no oil drives it there.
  const pistonM2 = isSpring && way === 'unclamp' ? 0 : drive;
  const annulusM2 = isSpring && way === 'clamp' ? 0 : back;
  const springN = !isSpring ? 0 : way === 'clamp' ? group.springForceAtContactN : -group.springForceN;
  const opensAtPa = pistonM2 === 0 ? null : toOpening(known, group, way);
  return {
    count: group.count,
    pistonM2,
    annulusM2,
    strokeM: group.strokeM,
    frictionN: group.frictionN + springN + known.returnPressurePa * annulusM2,
    viscousNsPerM: group.viscousFrictionNsPerM,
    stiffnessNPerM: group.contactStiffnessNPerM,
    ...(opensAtPa === null ? {} : { opensAtPa }),
  };
}

/** The circuit of a movement, with what stands on the way to its cylinders: which groups move, one way. */
export interface Movement {
  readonly circuit: ClampCircuit;
  readonly losses: CircuitLosses;
}

export function toMovement(known: Known, way: Way, which: readonly Group[], at: Conditions): Movement {
  const losses = toLosses(known, way, which, at);
  return { circuit: toCircuit(known, way, which, at, losses), losses };
}

export function toCircuit(
  known: Known,
  way: Way,
  which: readonly Group[],
  at: Conditions,
  losses = toLosses(known, way, which, at),
): ClampCircuit {
  const { feed, oil } = known;
  const other = way === 'clamp' ? 'unclamp' : 'clamp';
  const { pieces } = feed.lines[way];
  const lineVolumeM3 = sumOf(pieces, toVolume);
  return {
    freeFlowM3PerS: at.freeFlowM3PerS,
    stallPressurePa: at.stallPressurePa,
    supplyResistance: losses.supply + losses.valve + losses.line,
    returnResistance: losses.back,
    supplyLimitM3PerS: feed.limits.to[way],
    returnLimitM3PerS: feed.limits.from[other],
    lineVolumeM3,
    oilModulusPa: oil.modulusPa,
    airFraction: oil.airFraction,
    polytropic: POLYTROPIC,
    hoseCompliance: sumOf(pieces, (piece) => toVolume(piece) * piece.compliance) / lineVolumeM3,
    groups: which.map((group) => toGroup(known, group, way)),
  };
}

/** Where a switch may sense. */
function toPlaces({ feed }: Known, { supply, valve }: CircuitLosses) {
  const heldToM3PerS = feed.supplyLimitM3PerS;
  return {
    pump: { resistanceBefore: 0, heldToM3PerS: null },
    manifold: { resistanceBefore: supply, heldToM3PerS },
    'clamp-line': { resistanceBefore: supply + valve, heldToM3PerS },
  } satisfies Record<NonNullable<ActuationInput['switchAt']>, Place>;
}

/** Pressures at the cylinders as the switch makes: where it senses latest, and where it senses soonest. */
export function toSwitching(known: Known, { circuit, losses }: Movement): { latestPa: number; soonestPa: number } {
  const { switchRisingPa, switchAt } = known;
  if (!known.isFromFacts) {
    const only = toManifoldPressure(circuit, switchRisingPa, switchAt === 'pump' ? 'pump' : 'manifold');
    return { latestPa: only, soonestPa: only };
  }
  const soonestPa = toCylinderPressure(circuit, switchRisingPa, toPlaces(known, losses)[switchAt]);
  return { latestPa: switchAt === 'clamp-line' ? switchRisingPa : soonestPa, soonestPa };
}

/** Pressures on the way while the cylinders have theirs. */
export function toPressures(known: Known, { circuit, losses }: Movement, cylinderPa: number): PressuresOnTheWay {
  const places = toPlaces(known, losses);
  return {
    pumpPa: toPressureAt(circuit, cylinderPa, places.pump),
    manifoldPa: toPressureAt(circuit, cylinderPa, places.manifold),
    linePa: toPressureAt(circuit, cylinderPa, places['clamp-line']),
    cylinderPa,
  };
}
