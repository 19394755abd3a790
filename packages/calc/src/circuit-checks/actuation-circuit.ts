import {
  toCylinderPressure,
  toManifoldPressure,
  toPressureAt,
  type CircuitGroup,
  type ClampCircuit,
  type Place,
} from '../filling/clamp-circuit.js';
import { toDrivenFlow } from '../filling/driven-flow.js';
import type { Pressed } from '../filling/let-down.js';
import type { Conditions, Group, Known, Way } from './actuation-figures.js';
import type { ActuationInput, PressuresOnTheWay } from './actuation.types.js';
import { toLosses, toReturnLoss, toSides, type CircuitLosses } from './circuit-losses.js';
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
    // Always there, as every circuit has one shape: it is read a thousand times a proof.
    opensAtPa: opensAtPa ?? undefined,
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

/** What a line holds that presses one way: its oil, its hoses, and its side of the cylinders. */
export function toPressed(known: Known, way: Way, which: readonly Group[]): Pressed {
  const { feed, oil } = known;
  const { pieces } = feed.lines[way];
  const lineVolumeM3 = sumOf(pieces, toVolume);
  return {
    lineVolumeM3,
    oilModulusPa: oil.modulusPa,
    airFraction: oil.airFraction,
    polytropic: POLYTROPIC,
    hoseCompliance: sumOf(pieces, (piece) => toVolume(piece) * piece.compliance) / lineVolumeM3,
    groups: which.map((group) => toGroup(known, group, way)),
  };
}

export function toCircuit(
  known: Known,
  way: Way,
  which: readonly Group[],
  at: Conditions,
  losses = toLosses(known, way, which, at),
): ClampCircuit {
  const { limits } = known.feed;
  return {
    freeFlowM3PerS: at.freeFlowM3PerS,
    stallPressurePa: at.stallPressurePa,
    supplyResistance: losses.supply + losses.valve + losses.line,
    returnResistance: losses.back,
    supplyLimitM3PerS: limits.to[way],
    returnLimitM3PerS: limits.from[way === 'clamp' ? 'unclamp' : 'clamp'],
    ...toPressed(known, way, which),
    behind: undefined,
  };
}

/** What a line that pressed may have held at the most: the stall at the air set, and what shut-in oil warmed up by. */
export const toMostHeld = ({ pump, warmedPa }: Known, way: Way): number => pump.stallPressurePa + warmedPa[way];

/**
 * The line behind as the movement begins, if something is pushed into it. Its loss is that of the most that a movement pushes out; of what it
 * lets down it is more, with the square, so that at the most that flows both are met.
 */
export function withLineBehind(known: Known, way: Way, circuit: ClampCircuit, at: Conditions): ClampCircuit {
  if (!known.isFromFacts || circuit.groups.every(({ annulusM2 }) => annulusM2 === 0)) return circuit;
  const pressing = way === 'clamp' ? 'unclamp' : 'clamp';
  const { groups: _sides, ...pressed } = toPressed(known, pressing, known.groups);
  const startPa = Math.max(0, toMostHeld(known, pressing) - known.returnPressurePa);
  const most = toDrivenFlow(startPa, (flowM3PerS) => toReturnLoss(known, way, at, flowM3PerS));
  const squareLoss = startPa === 0 ? 0 : Math.max(0, (startPa / most - circuit.returnResistance) / most);
  const behind = { ...pressed, startPa, squareLoss, standingPa: known.returnPressurePa };
  return { ...circuit, behind: { ...behind, isAtWorkpiece: pressing === 'clamp' } };
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

/** Pressures at the cylinders as the switch makes: where it senses latest and makes as late as it may, where it senses soonest, and at its set point. */
export function toSwitching(
  known: Known,
  { circuit, losses }: Movement,
): { latestPa: number; soonestPa: number; setPa: number } {
  const { switchRisingPa, switchAccuracyPa, switchAt } = known;
  if (!known.isFromFacts) {
    const only = toManifoldPressure(circuit, switchRisingPa, switchAt === 'pump' ? 'pump' : 'manifold');
    return { latestPa: only, soonestPa: only, setPa: only };
  }
  const place = toPlaces(known, losses)[switchAt];
  const soonestPa = toCylinderPressure(circuit, switchRisingPa, place);
  const latestAt = (pressurePa: number): number =>
    switchAt === 'clamp-line' ? pressurePa : toCylinderPressure(circuit, pressurePa, place);
  return { latestPa: latestAt(switchRisingPa + switchAccuracyPa), soonestPa, setPa: latestAt(switchRisingPa) };
}

/** What the switch senses where it senses soonest, while the cylinders have theirs. */
export const toSensed = (known: Known, { circuit, losses }: Movement, cylinderPa: number): number =>
  toPressureAt(circuit, cylinderPa, toPlaces(known, losses)[known.switchAt]);

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
