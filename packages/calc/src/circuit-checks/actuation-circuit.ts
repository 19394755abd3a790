import {
  toCylinderPressure,
  toManifoldPressure,
  toPressureAt,
  type CircuitGroup,
  type ClampCircuit,
  type Place,
} from '../filling/clamp-circuit.js';
import type { Conditions, Group, Known, Line, Way } from './actuation-figures.js';
import type { ActuationInput, PressuresOnTheWay } from './actuation.types.js';
import { sumOf, toArea, toVolume } from './figures.js';
import { toFittingResistance, toResistance } from './line-losses.js';

/** Air that is pressed together within seconds: adiabatic. */
const POLYTROPIC = 1.4;

/** Areas that drive a cylinder and that push oil back. */
export function toSides({ boreM, rodM, pulls }: Group, way: Way): [drive: number, back: number] {
  const [piston, annulus] = [toArea(boreM), toArea(boreM) - toArea(rodM)];
  return (way === 'clamp') === pulls ? [annulus, piston] : [piston, annulus];
}

export const lossOf = ({ oil }: Known, { pieces, fittings }: Line, at: Conditions): number =>
  toResistance(pieces, at.viscosityM2PerS, oil.densityKgPerM3) + toFittingResistance(fittings, at, oil.densityKgPerM3);

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

/** The circuit of a movement: which groups move, one way. */
export function toCircuit(known: Known, way: Way, which: readonly Group[], at: Conditions): ClampCircuit {
  const { feed, oil } = known;
  const { lines, valve } = feed;
  const other = way === 'clamp' ? 'unclamp' : 'clamp';
  const { pieces } = lines[way];
  const lineVolumeM3 = sumOf(pieces, toVolume);
  return {
    freeFlowM3PerS: at.freeFlowM3PerS,
    stallPressurePa: at.stallPressurePa,
    supplyResistance: lossOf(known, lines.supply, at) + valve + lossOf(known, lines[way], at),
    returnResistance: lossOf(known, lines[other], at) + valve + lossOf(known, lines.tank, at),
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
function toPlaces(known: Known, at: Conditions) {
  const { lines, valve, supplyLimitM3PerS } = known.feed;
  const manifold = lossOf(known, lines.supply, at);
  const heldToM3PerS = supplyLimitM3PerS;
  return {
    pump: { resistanceBefore: 0, heldToM3PerS: null },
    manifold: { resistanceBefore: manifold, heldToM3PerS },
    'clamp-line': { resistanceBefore: manifold + valve, heldToM3PerS },
  } satisfies Record<NonNullable<ActuationInput['switchAt']>, Place>;
}

/** Pressures at the cylinders as the switch makes: where it senses latest, and where it senses soonest. */
export function toSwitching(
  known: Known,
  circuit: ClampCircuit,
  at: Conditions,
): { latestPa: number; soonestPa: number } {
  const { switchRisingPa, switchAt } = known;
  if (!known.isFromFacts) {
    const only = toManifoldPressure(circuit, switchRisingPa, switchAt === 'pump' ? 'pump' : 'manifold');
    return { latestPa: only, soonestPa: only };
  }
  const soonestPa = toCylinderPressure(circuit, switchRisingPa, toPlaces(known, at)[switchAt]);
  return { latestPa: switchAt === 'clamp-line' ? switchRisingPa : soonestPa, soonestPa };
}

/** Pressures on the way while the cylinders have theirs. */
export function toPressures(
  known: Known,
  circuit: ClampCircuit,
  at: Conditions,
  cylinderPa: number,
): PressuresOnTheWay {
  const places = toPlaces(known, at);
  return {
    pumpPa: toPressureAt(circuit, cylinderPa, places.pump),
    manifoldPa: toPressureAt(circuit, cylinderPa, places.manifold),
    linePa: toPressureAt(circuit, cylinderPa, places['clamp-line']),
    cylinderPa,
  };
}
