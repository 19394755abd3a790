import { ATMOSPHERE_PA } from '../constants.js';
import type { FigureRef, MissingFigure } from '../pressure-ladder/pressure-ladder.types.js';
import { toSpan, UNKNOWN, type Span } from '../pressure-ladder/span.js';
import { toSpringArea } from './actuation-figures.js';
import type { ActuationGroup, ActuationInput } from './actuation.types.js';
import { toSides } from './circuit-losses.js';
import { Figures, isNotNegative, isPositive, sumOf, toVolume } from './figures.js';

/** An accumulator whose gas gives way while the clamps' oil is shut in. `null`: not known. */
export interface Store {
  readonly ref: FigureRef;
  readonly sizeM3: number | null;
  /** below it, the gas pressing as warm as the oil at work, it gives no oil [Pa] */
  readonly prechargePa: number | null;
}

export interface LeakBehindInput extends Pick<ActuationInput, 'groups' | 'lines' | 'unplaced'> {
  readonly stores: readonly Store[];
  /** effective bulk modulus of the clamp line, and of the unclamp line [Pa] */
  readonly clampModulusPa: number | null;
  readonly unclampModulusPa: number | null;
  /** lowest pressure at which the clamps must still hold [Pa] */
  readonly lowestPa: number | null;
}

/** How much the unclamp line rises for each pascal by which the clamp line falls [1], not below zero, and what is missing for it. */
export interface LeakBehind {
  readonly ratio: Span;
  readonly missing: readonly MissingFigure[];
}

/** How many of a group there are, the areas upon the clamp line and upon the unclamp line, its stroke and its stiffness at contact. */
function takeCylinder(figures: Figures, group: ActuationGroup) {
  const { ref, count, acting } = group;
  const boreM = figures.take(group.boreM, 'boreM', ref, isPositive);
  const strokeM = figures.take(group.strokeM, 'strokeM', ref, isNotNegative);
  const stiffnessNPerM = figures.take(group.contactStiffnessNPerM, 'contactStiffnessNPerM', ref, isPositive);
  const common = { count, strokeM, stiffnessNPerM };
  if (acting === 'single') return { ...common, clampM2: toSpringArea(group) ?? Number.NaN, unclampM2: 0 };
  if (acting === null) figures.missing.push({ field: 'acting', ref });
  if (group.pulls === null) figures.missing.push({ field: 'form', ref });
  const rodM = figures.take(group.rodM, 'rodM', ref, (rod) => rod >= 0 && !(rod >= boreM));
  const [clampM2, unclampM2] = toSides({ boreM, rodM, pulls: group.pulls ?? false }, 'clamp');
  return { ...common, clampM2, unclampM2 };
}

/** By how much the gas of an accumulator gives way at the lowest that still holds, where it gives way most [m3/Pa]. */
function toGasCompliance(figures: Figures, { ref, sizeM3, prechargePa }: Store, lowestPa: number): number {
  const size = figures.take(sizeM3, 'size', ref, isPositive);
  const filled = figures.take(prechargePa, 'leastWorkingPressurePa', ref, isNotNegative);
  return (size * (filled + ATMOSPHERE_PA)) / (Math.max(filled, lowestPa) + ATMOSPHERE_PA) ** 2;
}

/**
 * What leaks past the pistons of clamps that oil moves both ways goes into the unclamp line, which is shut in as well: it rises by what the
 * clamp line loses, the more the stiffer it is, and works against the clamps, while the gauge and the switch of the clamp line show the
 * little that left it. That all of it goes there is the worst that can be. Both volumes balance:
 *
 *   C_c·Δc + Σ n·A_c·x = C_u·Δu + Σ n·A_u·x,  x = (A_c·Δc + A_u·Δu)/k
 *
 * with what lines and cylinders give way by, C = V/K, and what the clamps spring back by, x, as less presses upon them. The oil that is left
 * on the unclamp side of a cylinder that has clamped counts as none.
 * Source: balance of volumes and of forces.
 */
export function findLeakBehind(input: LeakBehindInput): LeakBehind {
  const { groups } = input;
  if (groups.length > 0 && groups.every(({ acting }) => acting === 'single')) return { ratio: toSpan(0), missing: [] };
  const figures = new Figures();
  if (groups.length === 0) figures.missing.push({ field: 'groups', ref: null });
  for (const ref of input.unplaced ?? []) figures.missing.push({ field: 'lineFunctions', ref });
  const cylinders = groups.map((group) => takeCylinder(figures, group));
  const clampLine = sumOf(figures.takeLine(input.lines.clamp, 'clampLine'), toVolume);
  const unclampLine = sumOf(figures.takeLine(input.lines.unclamp, 'unclampLine'), toVolume);
  const clampModulusPa = figures.take(input.clampModulusPa, 'bulkModulusPa', null, isPositive);
  const unclampModulusPa = figures.take(input.unclampModulusPa, 'unclampBulkModulusPa', null, isPositive);
  const strokes = sumOf(cylinders, ({ count, clampM2, strokeM }) => count * clampM2 * strokeM);
  const gas = sumOf(input.stores, (store) => toGasCompliance(figures, store, input.lowestPa ?? 0));
  const clamp = (clampLine + strokes) / clampModulusPa + gas;
  const unclamp = unclampLine / unclampModulusPa;
  const springs = (one: 'clampM2' | 'unclampM2', other: 'clampM2' | 'unclampM2'): number =>
    sumOf(cylinders, (cylinder) => (cylinder.count * cylinder[one] * cylinder[other]) / cylinder.stiffnessNPerM);
  const both = springs('clampM2', 'unclampM2');
  const given = clamp + springs('clampM2', 'clampM2') - both;
  const taken = unclamp + springs('unclampM2', 'unclampM2') - both;
  if (figures.missing.length > 0) return { ratio: UNKNOWN, missing: figures.missing };
  // Clamps that spring back far take up in the clamp line's stead what leaks: then its gauge shows nothing of it.
  return {
    ratio: given <= 0 ? toSpan(0) : taken <= 0 ? { lo: Infinity, hi: Infinity } : toSpan(given / taken),
    missing: [],
  };
}
