import type { FigureRef, MissingFigure } from '../pressure-ladder/pressure-ladder.types.js';

/** What a support bears: at a pressure, and more with each pascal above it. `null`: not known. */
export interface LoadByPressure {
  loadN: number | null;
  atPressurePa: number;
  loadPerPaN: number | null;
}

/** A work support as check 12 takes it. */
export interface SupportInput {
  ref: FigureRef;
  /** its place among the groups of the movement; left out: when it arrives is not reckoned with */
  group?: number;
  lockPressurePa: number | null;
  /** clamping and cutting load, as typed [N] */
  highestLoadN: number | null;
  ratedLoadN: number | null;
  ratedPressurePa: number | null;
  /** the same as computed, with what was typed where an operation is not computed; left out: only the typed one is known */
  loads?: readonly LoadByPressure[];
}

/** Load and capacity of a support at one pressure. */
export interface LoadAndCapacity {
  loadN: number | null;
  capacityN: number | null;
}

function loadAt({ highestLoadN, loads }: SupportInput, pressurePa: number | null): number | null {
  if (loads === undefined) return highestLoadN;
  const at = loads.map(({ loadN, atPressurePa, loadPerPaN }) =>
    loadN === null || loadPerPaN === null || pressurePa === null
      ? null
      : loadN + loadPerPaN * Math.max(0, pressurePa - atPressurePa),
  );
  return at.includes(null) ? null : Math.max(...at.map(Number));
}

/** It carries in proportion to its pressure, up to its rating; and nothing before it locks, where that is reckoned with. */
function capacityAt(support: SupportInput, pressurePa: number | null, isLockReckoned: boolean): number | null {
  const { ratedLoadN, ratedPressurePa, lockPressurePa } = support;
  if (pressurePa === null) return null;
  if (isLockReckoned && lockPressurePa !== null && pressurePa < lockPressurePa) return 0;
  if (ratedLoadN === null || ratedPressurePa === null || ratedPressurePa <= 0) return null;
  return ratedLoadN * Math.min(1, Math.max(0, pressurePa / ratedPressurePa));
}

export interface WithGauge extends LoadAndCapacity {
  /** the same with the gauge's error as well; left out: not reckoned with */
  withGauge?: LoadAndCapacity;
  /** what is to be found out, where they are not known; left out: load and capacity themselves */
  missing?: readonly MissingFigure[];
}

interface AtPressures {
  support: SupportInput;
  /** of the circuit, with its tolerances [Pa] */
  lowestPa: number | null;
  highestPa: number | null;
  /** by how much both may be further off [Pa]; null: not known; left out: not reckoned with */
  gaugeErrorPa?: number | null;
  isLockReckoned: boolean;
}

/**
 * What a support bears and what it carries, both at the lowest pressure that there is; and, where the load grows with the pressure, at the
 * highest too: between the two the load grows evenly and the capacity ever less, so that neither can be passed over.
 */
export function toLoadAndCapacity(given: AtPressures): WithGauge & { atHighest?: WithGauge } {
  const { support, lowestPa, highestPa, gaugeErrorPa, isLockReckoned } = given;
  const at = (pressurePa: number | null): LoadAndCapacity => ({
    loadN: loadAt(support, pressurePa),
    capacityN: capacityAt(support, pressurePa, isLockReckoned),
  });
  const off = (pressurePa: number | null, way: 1 | -1): number | null =>
    pressurePa === null || gaugeErrorPa == null ? null : pressurePa + way * gaugeErrorPa;
  const withGauge = (pressurePa: number | null, way: 1 | -1): WithGauge => ({
    ...at(pressurePa),
    ...(gaugeErrorPa === undefined ? {} : { withGauge: at(off(pressurePa, way)) }),
  });
  return {
    ...withGauge(lowestPa, -1),
    ...(support.loads === undefined ? {} : { atHighest: withGauge(highestPa, 1) }),
  };
}
