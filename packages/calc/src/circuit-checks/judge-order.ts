import { findReactionLoss, findReset } from '../pressure-ladder/pressure-checks.js';
import type { PressureFigures } from '../pressure-ladder/pressure-figures.js';
import { findTrappedBound } from '../pressure-ladder/relief-bounds.js';
import type { MissingFigure, PressureLadderInput } from '../pressure-ladder/pressure-ladder.types.js';
import { add, isExact, leastOf, mostOf, multiply, toSpan, ZERO, type Span } from '../pressure-ladder/span.js';
import type { ActuationResult, Arriving } from './actuation.types.js';
import type { CheckedTime, CircuitCheck } from './circuit-checks.types.js';
import { listMissing } from './judge-pairs.js';
import { checkOrderAndSpeed } from './order-check.js';
import type { PartChecksInput } from './part-checks.js';
import { toLoadAndCapacity, type LoadAndCapacity, type SupportInput } from './support-load.js';

/** A pressure, and what has to be found out where it is not known. */
interface Bounding {
  readonly pressurePa: number | null;
  readonly missing: readonly MissingFigure[];
}

/** What a hose that must be survived takes of it while switch and control react; one of which nobody has said that it is held back may. */
const toBurstLoss = ({ hold: { burst, burstIfBeyond, reactionTimeS } }: PressureLadderInput): Span =>
  [burst, burstIfBeyond]
    .filter((each) => each?.mustHold === true)
    .map((each) => multiply(toSpan(each?.ratePaPerS), toSpan(reactionTimeS)))
    .reduce(mostOf, ZERO);

/**
 * Lowest pressure at which the machine still cuts: the switch stops it at its reset point less its accuracy, and until the spindle stands still
 * it leaks on; at the lowest plant air the pump may stall below both.
 */
function findLowestCutting({ input: ladder }: Pick<PressureFigures, 'input'>, lift: Span): Bounding {
  const { settingPa, settingHalfWidthPa, switchAccuracyPa, isFromFacts } = ladder;
  const isSettingKnown = settingPa !== null && settingHalfWidthPa !== null && isExact(lift);
  const settingLow = isSettingKnown ? Math.min(settingPa - settingHalfWidthPa, lift.lo) : null;
  if (isFromFacts !== true) return { pressurePa: settingLow, missing: [] };
  const leak = findReactionLoss({ input: ladder });
  const loss = { ...leak, span: mostOf(leak.span, toBurstLoss(ladder)) };
  const reset = findReset(ladder);
  const stops = isExact(reset) && switchAccuracyPa !== null ? reset.lo - switchAccuracyPa : null;
  const pressurePa = settingLow === null || stops === null || !isExact(loss.span) ? null : Math.min(settingLow, stops - loss.span.lo); // prettier-ignore
  const missing = [
    ...listMissing(
      { field: 'settingPa', value: settingPa },
      { field: 'settingHalfWidthPa', value: settingHalfWidthPa },
      { field: 'resetPointPa', value: ladder.resetPointPa },
      { field: 'setPointPa', value: ladder.setPointPa },
      { field: 'switchAccuracyPa', value: switchAccuracyPa },
      { field: 'lowestLiftPa', value: isExact(lift) ? 0 : null },
    ),
    ...loss.missing,
  ];
  return { pressurePa, missing };
}

/** Highest pressure that the clamps have while nothing is wrong: the setting, and what oil that is shut in rises by where no relief that it reaches lets it out. */
function findHighestInUse({
  input,
  rise,
  setting,
  settingHalfWidth,
}: PressureFigures): Bounding & { atLeastPa: number | null } {
  const { settingPa, settingHalfWidthPa, isFromFacts } = input;
  const set = add(setting, settingHalfWidth);
  const bound = findTrappedBound(input);
  const highest = isFromFacts === true ? mostOf(set, leastOf(add(set, rise.span), bound.span)) : set;
  const missing = [
    ...listMissing(
      { field: 'settingPa', value: settingPa },
      { field: 'settingHalfWidthPa', value: settingHalfWidthPa },
    ),
    ...(isFromFacts === true ? [...rise.missing, ...bound.missing] : []),
  ];
  return {
    pressurePa: isExact(highest) ? highest.lo : null,
    atLeastPa: settingPa === null ? null : highest.lo,
    missing,
  };
}

/** What of a support's own figures is not known. */
const listOfSupport = ({
  ref,
  highestLoadN,
  loads,
  ratedLoadN,
  ratedPressurePa,
}: SupportInput): readonly MissingFigure[] => {
  const isLoadKnown =
    loads === undefined
      ? highestLoadN !== null
      : loads.every(({ loadN, loadPerPaN }) => loadN !== null && loadPerPaN !== null);
  return listMissing(
    { field: 'loadN', value: isLoadKnown ? 0 : null, ref },
    { field: 'capacityN', value: ratedLoadN === null || ratedPressurePa === null ? null : 0, ref },
  );
};

const isOverloaded = (support: LoadAndCapacity | undefined): boolean =>
  support !== undefined && support.loadN !== null && support.capacityN !== null && support.loadN > support.capacityN;

/** When a support meets the workpiece, and when the first clamp does: it can lock no sooner, whatever the pressure. */
function toArrivals(
  support: number,
  groups: PartChecksInput['actuation']['groups'],
  movements: readonly (Arriving | null)[],
): { supportS: CheckedTime; clampS: CheckedTime }[] | null {
  const clamps = groups.flatMap(({ role }, index) => (role === 'clamp' ? [index] : []));
  if (clamps.length === 0) return [];
  const known = movements.flatMap((movement) => (movement === null ? [] : [movement]));
  if (known.length < movements.length) return null;
  return known.map(({ contactsS }) => {
    const times = clamps.flatMap((index) => contactsS[index] ?? []);
    return {
      supportS: contactsS[support] ?? 'never',
      clampS: times.length === 0 ? 'never' : Math.min(...times),
    };
  });
}

/** Check 12 of a circuit: at the lowest pressure at which it still cuts, and at the highest that it has in use. */
export function judgeOrder(
  { order, actuation, marginsAsked }: PartChecksInput,
  figures: PressureFigures,
  { warm, cold, swiftest, flowsM3PerS, returnFlowsM3PerS }: ActuationResult,
  lift: Span,
): CircuitCheck {
  const { isFromFacts, gaugeErrorPa } = figures.input;
  const highest = findHighestInUse(figures);
  const lowest = findLowestCutting(figures, lift);
  const gauge = isFromFacts === true ? { gaugeErrorPa } : {};
  const ofGauge = isFromFacts === true ? listMissing({ field: 'gaugeErrorPa', value: gaugeErrorPa }) : [];
  // What is lost on the way back holds clamps back, and no support: with less of it clamps arrive sooner, and at less pressure.
  const movements = [warm, cold, ...(swiftest === undefined ? [] : [swiftest])];
  const atContact = movements.map((movement) => movement?.pressureAtFirstContactPa ?? null);
  const moved = atContact.some((pressure) => pressure === null) ? null : Math.min(...atContact.map(Number));
  const clampsLoadFromPa = order.hasSequenceValve ? order.sequencePressurePa : moved;
  return checkOrderAndSpeed({
    supports: order.supports.map((support) => {
      const { ref, lockPressurePa, group } = support;
      const lowestPa = lowest.pressurePa;
      const isLockReckoned = order.isLockReckoned === true;
      const at = (highestPa: number | null) =>
        toLoadAndCapacity({ support, lowestPa, highestPa, isLockReckoned, ...gauge });
      const { atHighest: atWhole, ...atLowest } = at(highest.pressurePa);
      // However far it rises: what it cannot carry as it is set, it cannot carry.
      const atSet = highest.pressurePa === null && isFromFacts === true ? at(highest.atLeastPa).atHighest : undefined;
      const atHighest = isOverloaded(atSet) ? atSet : atWhole;
      const because = (bounding: Bounding) =>
        isFromFacts === true ? { missing: [...bounding.missing, ...ofGauge, ...listOfSupport(support)] } : {};
      return {
        ...{ ref, lockPressurePa, clampsLoadFromPa, ...atLowest, ...because(lowest) },
        ...(isFromFacts === true && group !== undefined
          ? { arrivals: toArrivals(group, actuation.groups, movements) }
          : {}),
        ...(atHighest === undefined ? {} : { atHighest: { ...atHighest, ...because(highest) } }),
      };
    }),
    swingClamps: order.swingClamps.flatMap(({ group, highestFlowM3PerS, armPressurePa }) => {
      const ref = actuation.groups[group]?.ref;
      if (ref === undefined) return [];
      const former = [warm, cold].map((movement) => movement?.peakFlowsM3PerS?.[group] ?? null);
      const most = former.includes(null) ? null : Math.max(...former.map(Number));
      const flowM3PerS = isFromFacts === true ? (flowsM3PerS?.[group] ?? null) : most;
      const { pressurePa, atLeastPa } = highest;
      // Of what nobody knows wholly, at least what is known.
      const knownPart = pressurePa === null && atLeastPa !== null ? { pressureAtLeastPa: atLeastPa } : {};
      return [
        {
          ...{ ref, flowM3PerS, highestFlowM3PerS, pressurePa, ...knownPart, armPressurePa },
          ...(isFromFacts === true ? { ...gauge, missing: [...highest.missing, ...ofGauge] } : {}),
          ...(isFromFacts === true ? { returnFlowM3PerS: returnFlowsM3PerS?.[group] ?? null } : {}),
        },
      ];
    }),
    ...(order.isUnknown === true ? { isUnknown: true } : {}),
    marginAsked: marginsAsked['order-and-speed'],
  });
}
