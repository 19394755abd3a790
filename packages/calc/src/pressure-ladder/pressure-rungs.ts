import { seesLine, toCapacity, type PressureFigures } from './pressure-figures.js';
import type {
  FigureRef,
  RatedComponent,
  PressureRung,
  PressureRungCode,
  PressureLadderInput,
} from './pressure-ladder.types.js';
import { isAbove, isExact, known } from './span.js';

/** Only figures that are known, so that a page need not ask. */
function onlyKnown(figures: Readonly<Record<string, number | null>>): Record<string, number> {
  const kept: Record<string, number> = {};
  for (const [name, figure] of Object.entries(figures)) {
    const value = known(figure);
    if (value !== null) kept[name] = value;
  }
  return kept;
}

/** Stall pressure of an air-driven pump at an air pressure; null when a figure is missing. */
function findStallIfKnown({ pump }: PressureLadderInput, airPressurePa: number | null): number | null {
  const ratio = known(pump.pistonRatio);
  const efficiency = known(pump.stallEfficiencyRatio);
  const air = known(airPressurePa);
  return pump.drive !== 'air' || ratio === null || efficiency === null || air === null
    ? null
    : ratio * efficiency * air;
}

const NONE: Readonly<Record<string, number>> = {};

// One shape for every rung, made in one place: thousands of ladders are computed for the fleet page.
function toRung(
  code: PressureRungCode,
  pressurePa: number | null,
  basis: string,
  halfWidthPa: number | null,
  ref: FigureRef | null,
  parameters: Readonly<Record<string, number>>,
  isWeakest: boolean,
): PressureRung {
  return { code, pressurePa, halfWidthPa, ref, isWeakest, basis, parameters };
}

function toRating(component: RatedComponent, weakestPa: number): PressureRung {
  const { ratedPressurePa, deratingRatio, rodSideAreaRatio, ref } = component;
  const capacity = toCapacity(component);
  const isWeakest = capacity !== null && !isAbove(capacity, weakestPa);
  const parameters =
    capacity !== null && rodSideAreaRatio === null
      ? { ratedPressurePa: Number(ratedPressurePa), deratingRatio }
      : onlyKnown({ ratedPressurePa, deratingRatio, rodSideAreaRatio });
  return toRung('rating', capacity, 'rated-pressure', null, ref, parameters, isWeakest);
}

const LIMIT_BASES = { workpiece: 'typed', pad: 'pad-pressure', locator: 'holding-force' } as const;

/** The rungs from the bottom up; one whose pressure is not known is listed all the same. */
export function listRungs(figures: PressureFigures): PressureRung[] {
  const { input, required, limit, highest, weakest } = figures;
  const { pump, relief } = input;
  const accuracy = known(input.switchAccuracyPa);
  const requiredPa = isExact(required.span) ? required.span.lo : null;
  // With an operation unknown this much is sure all the same.
  const requiredKnown = {
    ...(required.subject ? { knownAtLeastPa: required.span.lo } : NONE),
    ...(required.backPressurePa > 0 ? { backPressurePa: required.backPressurePa } : NONE),
  };
  const highestPa = isExact(highest.span) ? highest.span.lo : null;
  const limitPa = isExact(limit.span) && Number.isFinite(limit.span.lo) ? limit.span.lo : null;
  const limitBasis = limit.isLimiting ? LIMIT_BASES[limit.by] : 'not-limiting';
  const { airPressurePa, airPressureLowPa } = pump;
  // The regulator gives what it is set to, and no more than comes in.
  const isSetKnown = airPressurePa !== null && airPressureLowPa !== null;
  const lowerPa = isSetKnown ? Math.min(airPressurePa, airPressureLowPa) : null;
  const lowestAirPa = input.isFromFacts === true ? lowerPa : airPressureLowPa;
  const settingKnown = onlyKnown({
    gaugeErrorPa: input.gaugeErrorPa,
    gaugeOffReferenceK: input.gaugeOffReferenceK ?? null,
    stallAtSetAirPa: findStallIfKnown(input, airPressurePa),
    stallAtLowAirPa: findStallIfKnown(input, lowestAirPa),
  });
  const highestKnown = onlyKnown({
    pistonRatio: pump.pistonRatio,
    stallEfficiencyRatio: pump.stallEfficiencyRatio,
    airPressureHighPa: pump.airPressureHighPa,
    highestPressurePa: pump.highestPressurePa,
    fullFlowPressurePa: highest.relief === null ? (relief?.fullFlowPressurePa ?? null) : highest.span.hi,
    hasReducingValve: input.hasReducingValve ? 1 : 0,
  });
  const restart = known(pump.restartPressurePa);
  const rungs = [
    toRung('required', requiredPa, required.basis, null, required.subject, requiredKnown, false),
    toRung('reset-point', known(input.resetPointPa), 'as-left', accuracy, null, NONE, false),
    toRung('set-point', known(input.setPointPa), 'as-left', accuracy, null, NONE, false),
    toRung('pump-restart', restart, 'as-left', known(pump.restartHalfWidthPa), null, NONE, false),
    toRung('setting', known(input.settingPa), 'as-left', known(input.settingHalfWidthPa), null, settingKnown, false),
    toRung('highest-possible', highestPa, highest.basis, null, highest.relief, highestKnown, false),
    toRung('workpiece-limit', limitPa, limitBasis, null, limit.subject, NONE, false),
  ];
  for (const component of input.components) {
    if (seesLine(component, ['supply', 'clamp', 'unclamp'])) rungs.push(toRating(component, weakest.span.hi));
  }
  return rungs;
}
