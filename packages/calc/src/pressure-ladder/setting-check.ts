import { judgeCheck, type CheckDraft, type ThreeViews } from './judge-check.js';
import { findStall, listUnknown, type PressureFigures } from './pressure-figures.js';
import type { ProvedCheck } from './pressure-ladder.types.js';
import { findReliefBound, listReliefs } from './relief-bounds.js';
import { add, known, leastOf, multiply, toSpan, ZERO, type Span } from './span.js';

export const SETTING_FIELDS = ['settingPa', 'settingHalfWidthPa', 'gaugeErrorPa'] as const;

/** The setting as a demand: itself, with its tolerance, with the gauge's error too. */
export function settingViews(
  { setting, settingHalfWidth, gaugeError }: PressureFigures,
  more: Span = ZERO,
): ThreeViews {
  const nominal = add(setting, more);
  const stated = add(nominal, settingHalfWidth);
  return { nominal, stated, worstCase: add(stated, gaugeError) };
}

export const SEVERITY = { fails: 3, unproven: 2, marginal: 1, holds: 0, 'not-applicable': -1 } as const;

/** How much of the capacity is used, for choosing between pairs of one status. */
const toUse = (check: ProvedCheck): number => check.ratio ?? (check.status === 'fails' ? Infinity : 0);

/** The worst of a check's pairs of demand and capacity; of one status the one that uses most. */
export const worstOf = (first: ProvedCheck, others: readonly ProvedCheck[]): ProvedCheck =>
  others.reduce((governing, check) => {
    const difference = SEVERITY[check.status] - SEVERITY[governing.status];
    return difference > 0 || (difference === 0 && toUse(check) > toUse(governing)) ? check : governing;
  }, first);

/** So far above what is set an air-driven pump may stall: steps of its regulator, and of its gauge (common practice, no source). */
const STALL_ABOVE_RATIO = 0.05;

/**
 * An air-driven pump goes on until it stalls at the air set, unless a relief lets its flow out before or a reducing valve stands behind it: a
 * setting that lies lower by more than a share is none that the circuit has. Its tolerance and its gauge are no excuse: with more of either it
 * would be the better for it.
 */
function listOfStall(figures: PressureFigures): CheckDraft[] {
  const { input, setting } = figures;
  const { pump, isFromFacts, hasReducingValve } = input;
  if (isFromFacts !== true || pump.drive !== 'air' || hasReducingValve === true || known(input.settingPa) === null)
    return [];
  const reliefs = listReliefs(input).filter(
    ({ relievesSource, openingPressurePa, fullFlowPressurePa }) =>
      relievesSource !== false && known(openingPressurePa) !== null && known(fullFlowPressurePa) !== null,
  );
  const reached = leastOf(findStall(input, pump.airPressurePa), findReliefBound(reliefs).span);
  const kept = multiply(setting, toSpan(1 + STALL_ABOVE_RATIO));
  const fields = ['pistonRatio', 'stallEfficiencyRatio', 'airPressurePa'] as const;
  return [
    {
      code: 'setting-within-rating',
      demand: { nominal: reached, stated: reached, worstCase: reached },
      capacity: { nominal: kept, stated: kept, worstCase: kept },
      failReason: 'stall-above-setting',
      subject: null,
      missing: fields.filter((field) => known(pump[field]) === null).map((field) => ({ field, ref: null })),
      marginAsked: 0,
      errors: null,
      parameters: {},
      source: 'air-driven-pump',
    },
  ];
}

/** Check 3: the setting with its tolerance stays within the weakest rating, and is what the pump stops at. */
export function checkSettingWithinRating(figures: PressureFigures): ProvedCheck {
  const { input, weakest, setting, settingHalfWidth, gaugeError } = figures;
  const ofRating = judgeCheck({
    code: 'setting-within-rating',
    leastProbability: input.leastProbability,
    demand: settingViews(figures),
    capacity: { nominal: weakest.span, stated: weakest.span, worstCase: weakest.span },
    failReason: 'above-rating',
    subject: weakest.subject,
    missing: [...weakest.missing, ...listUnknown(input, SETTING_FIELDS)],
    marginAsked: input.marginsAsked['setting-within-rating'],
    errors: { marginPa: weakest.span.lo - setting.lo, halfWidthsPa: [settingHalfWidth.lo, gaugeError.lo] },
    parameters: {},
    source: 'pressure-chain',
  });
  const [ofStall] = listOfStall(figures).map(judgeCheck);
  return ofStall === undefined || ofStall.status === 'holds' ? ofRating : worstOf(ofRating, [ofStall]);
}
