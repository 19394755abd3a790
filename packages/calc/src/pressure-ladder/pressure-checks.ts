import { withBurst } from './burst-check.js';
import { judgeCheck, same, type CheckDraft, type ThreeViews } from './judge-check.js';
import { findPressing, toBlockedRise } from './pressing-oil.js';
import {
  findWeakest,
  findWeakestOn,
  listUnknown,
  type BlockedLine,
  type GoverningFigure,
  type HighestFigure,
  type PressureFigures,
  type RequiredFigure,
} from './pressure-figures.js';
import { SETTING_FIELDS, settingViews, worstOf } from './setting-check.js';
import { findTrappedBound, listReliefs, toLowestOpening } from './relief-bounds.js';
import type { ProvedCheck, MissingFigure, PlacedRelief, PressureLadderInput } from './pressure-ladder.types.js';
import {
  add,
  isAbove,
  isExact,
  known,
  leastOf,
  mostOf,
  multiply,
  subtract,
  toSpan,
  UNBOUNDED,
  ZERO,
  type Span,
} from './span.js';
import { toUnsaidRise, type RiseFigure } from './thermal-rise.js';

function mapViews(views: ThreeViews, change: (span: Span) => Span): ThreeViews {
  return { nominal: change(views.nominal), stated: change(views.stated), worstCase: change(views.worstCase) };
}

/** Pressure lost between the switch's falling point and the spindle at rest. */
export function findReactionLoss({ input }: Pick<PressureFigures, 'input'>): { span: Span; missing: MissingFigure[] } {
  const missing: MissingFigure[] = [];
  const { decayRatePaPerS, reactionTimeS } = input.hold;
  if (known(decayRatePaPerS) === null) missing.push({ field: 'decayRatePaPerS', ref: null });
  if (known(reactionTimeS) === null) missing.push({ field: 'reactionTimeS', ref: null });
  // A pressure that rises while shut in is no reserve to count on.
  return { span: mostOf(multiply(toSpan(decayRatePaPerS), toSpan(reactionTimeS)), ZERO), missing };
}

/** A switch breaks below where it makes, by its deadband at least: a reset point above that cannot be, and is no better. */
export function findReset({ isFromFacts, resetPointPa, setPointPa, switchDeadbandPa }: PressureLadderInput): Span {
  const reset = toSpan(resetPointPa);
  const highest = subtract(toSpan(setPointPa), toSpan(switchDeadbandPa ?? 0));
  return isFromFacts === true ? leastOf(reset, highest) : reset;
}

/** Check 1: the switch stops the machine before the pressure falls below what holds the workpiece. */
export function checkHoldsWorkpiece(figures: PressureFigures): ProvedCheck {
  const { input, required, switchAccuracy, gaugeError } = figures;
  const loss = findReactionLoss(figures);
  const demand = add(required.span, loss.span);
  const nominal = findReset(input);
  // An unknown reset point says nothing, not even that it is low.
  const stated = subtract(nominal, switchAccuracy);
  const spreads = required.spreadsPa.map(known);
  const isSpreadKnown = !spreads.includes(null);
  const draft: CheckDraft = {
    code: 'holds-workpiece',
    leastProbability: input.leastProbability,
    // How much more may be required is a matter of probability; where nobody knows, nothing bounds it.
    demand: isSpreadKnown ? same(demand) : { ...same(demand), worstCase: { lo: demand.lo, hi: Infinity } },
    capacity: { nominal, stated, worstCase: subtract(stated, gaugeError) },
    failReason: 'below-required',
    subject: required.subject,
    missing: [
      ...required.missing,
      ...loss.missing,
      ...listUnknown(input, [
        'resetPointPa',
        ...(input.isFromFacts === true ? (['setPointPa'] as const) : []),
        'switchAccuracyPa',
        'gaugeErrorPa',
      ]),
      ...(isSpreadKnown ? [] : [{ field: 'requiredSpreadPa', ref: required.subject }]),
    ],
    marginAsked: input.marginsAsked['holds-workpiece'],
    errors: {
      marginPa: nominal.lo - demand.lo,
      halfWidthsPa: [switchAccuracy.lo, gaugeError.lo, ...spreads.map(Number)],
    },
    parameters: {
      requiredPa: required.span.lo,
      reactionLossPa: loss.span.lo,
      ...(required.backPressurePa > 0 ? { backPressurePa: required.backPressurePa } : {}),
    },
    source: 'switch-window',
  };
  return byHolding(bySensing(withBurst(draft, figures), input.sensesClamps), required);
}

/** What no pressure holds, none holds that a switch watches over, that the workpiece allows, or that is left without supply. */
export function byHolding(check: ProvedCheck, { unheld }: Pick<RequiredFigure, 'unheld'>): ProvedCheck {
  if (unheld === null) return check;
  const { ref: subject, loadCase } = unheld;
  const none = { nominal: null, stated: null, worstCase: null, ratio: null, probability: null };
  return { ...check, ...none, status: 'fails', reason: 'no-pressure-holds', subject, loadCase };
}

/** A switch that does not sense the clamps stops nothing when they lose their pressure. */
function bySensing(check: ProvedCheck, sensesClamps: boolean | null | undefined): ProvedCheck {
  if (sensesClamps === false) return { ...check, status: 'fails', reason: 'switch-senses-supply', probability: null };
  if (sensesClamps !== null) return check;
  const missing = [...check.missing, { field: 'sensing', ref: null }];
  return check.status === 'fails'
    ? { ...check, missing }
    : { ...check, status: 'unproven', reason: 'missing', probability: null, missing };
}

/** Check 2: the setting surely makes the switch, so that nothing stops without a cause. */
export function checkNoNuisanceStop(figures: PressureFigures): ProvedCheck {
  const { input, setting, settingHalfWidth, switchAccuracy, gaugeError, lowestLift } = figures;
  const nominal = toSpan(input.setPointPa);
  const stated = add(nominal, switchAccuracy);
  const settingLow = subtract(setting, settingHalfWidth);
  // At the lowest plant air the pump may stall below the setting.
  const lowest = leastOf(settingLow, lowestLift.span);
  const isStall = isAbove(settingLow.lo, lowestLift.span.hi);
  return judgeCheck({
    code: 'no-nuisance-stop',
    leastProbability: input.leastProbability,
    demand: { nominal, stated, worstCase: add(stated, gaugeError) },
    capacity: { nominal: leastOf(setting, lowestLift.span), stated: lowest, worstCase: lowest },
    failReason: isStall ? 'set-point-above-stall' : 'set-point-above-setting',
    subject: null,
    missing: [
      ...listUnknown(input, ['setPointPa', 'settingPa', 'switchAccuracyPa', 'settingHalfWidthPa', 'gaugeErrorPa']),
      ...lowestLift.missing,
    ],
    marginAsked: input.marginsAsked['no-nuisance-stop'],
    errors: {
      marginPa: setting.lo - nominal.lo,
      halfWidthsPa: [switchAccuracy.lo, gaugeError.lo, settingHalfWidth.lo],
    },
    // What the pump lifts to was read on no gauge, and has no tolerance of the setting in it.
    ...(lowestLift.span.lo === Infinity
      ? {}
      : {
          otherErrors: [
            { marginPa: lowestLift.span.lo - nominal.lo, halfWidthsPa: [switchAccuracy.lo, gaugeError.lo] },
          ],
        }),
    parameters: Number.isFinite(lowestLift.span.hi) ? { stallAtLowAirPa: lowestLift.span.hi } : {},
    source: 'switch-window',
  });
}

function draftSupply({ input }: PressureFigures, highest: HighestFigure, weakest: GoverningFigure): CheckDraft {
  return {
    code: 'highest-within-rating',
    governing: 'source',
    leastProbability: input.leastProbability,
    demand: same(highest.span),
    capacity: same(weakest.span),
    failReason: 'source-above-rating',
    subject: weakest.subject,
    missing: [...highest.missing, ...weakest.missing],
    marginAsked: input.marginsAsked['highest-within-rating'],
    errors: { marginPa: weakest.span.lo - highest.span.lo, halfWidthsPa: [] },
    // A reducing valve may fail open: it lowers the setting, not the highest possible.
    parameters: { hasReducingValve: input.hasReducingValve ? 1 : 0, hasRelief: listReliefs(input).length > 0 ? 1 : 0 },
    source: 'air-driven-pump',
  };
}

/** The source against what it reaches: where a relief of the clamp line holds that back and nothing else, against each by its own highest. */
function draftSources(figures: PressureFigures): readonly [CheckDraft, ...CheckDraft[]] {
  const { input, highest, highestAtClamps, weakest } = figures;
  const isOfClampsAlone = (relief: PlacedRelief): boolean =>
    relief.relievesSource === false && relief.relievesClamps !== false;
  if (!listReliefs(input).some(isOfClampsAlone)) {
    return [draftSupply(figures, highest, weakest)];
  }
  return [
    draftSupply(figures, highest, findWeakestOn(input, ['supply', 'unclamp'])),
    draftSupply(figures, highestAtClamps, findWeakestOn(input, ['clamp'])),
  ];
}

/** Oil that is shut in at the setting and warms up, in some lines, as far as something lets it out. */
function draftTrapped(
  figures: PressureFigures,
  rise: RiseFigure,
  weakest: GoverningFigure,
  bound: Pick<ReturnType<typeof findTrappedBound>, 'span' | 'missing'>,
): CheckDraft {
  const { input, setting, settingHalfWidth, gaugeError } = figures;
  const isBounded = !isAbove(bound.span.lo, weakest.span.lo);
  return {
    code: 'highest-within-rating',
    governing: 'trapped-oil',
    leastProbability: input.leastProbability,
    demand: mapViews(settingViews(figures, rise.span), (span) => leastOf(span, bound.span)),
    capacity: same(weakest.span),
    failReason: 'trapped-oil-above-rating',
    subject: weakest.subject,
    missing: [...rise.missing, ...bound.missing, ...weakest.missing, ...listUnknown(input, SETTING_FIELDS)],
    marginAsked: input.marginsAsked['highest-within-rating'],
    errors: isBounded
      ? { marginPa: weakest.span.lo - bound.span.lo, halfWidthsPa: [] }
      : {
          marginPa: weakest.span.lo - setting.lo - rise.span.lo,
          halfWidthsPa: [settingHalfWidth.lo, gaugeError.lo],
        },
    parameters: { thermalRisePa: rise.span.lo },
    source: 'trapped-oil-thermal-rise',
  };
}

const draftTrappedOil = (figures: PressureFigures): CheckDraft =>
  draftTrapped(figures, figures.rise, figures.weakest, findTrappedBound(figures.input));

/** Open, the unclamp line has the setting; shut in then, it warms up by what its own walls give way, and no relief of the clamp line reaches it. */
function draftTrappedOpen(figures: PressureFigures, unsaid: readonly string[]): CheckDraft {
  const { unclampRise, input } = figures;
  const rise = unsaid.length === 0 ? unclampRise : toUnsaidRise(unclampRise, unsaid);
  return draftTrapped(figures, rise, findWeakestOn(input, ['unclamp']), { span: UNBOUNDED, missing: [] });
}

/**
 * A line that is blocked, by what presses on the other side of its cylinders: by its source, or by its own oil, shut in and warmed up, with the oil
 * that is blocked.
 */
function draftIntensified(figures: PressureFigures, blocked: BlockedLine): CheckDraft {
  const { input, setting, settingHalfWidth, gaugeError } = figures;
  const { ratio, weakest, relieved, missing } = blocked;
  const highest = blocked.pressedBy === 'clamps' ? figures.highestAtClamps : figures.highest;
  const pressing = findPressing(figures, blocked.pressedBy);
  const rise = toBlockedRise(pressing, ratio);
  const bound = multiply(pressing.bound.span, ratio);
  const factor = ratio.lo;
  const isBounded = isAbove(setting.lo * factor + rise.lo, bound.lo);
  // What stands there whatever is set, and what goes with the setting.
  const fixed = Math.max(highest.span.lo * factor, isBounded ? bound.lo : 0);
  const ofSetting = setting.lo * factor + (isBounded ? 0 : rise.lo);
  const isRelieved = !isAbove(relieved.hi, fixed);
  const views = settingViews(figures);
  const pressed = (view: keyof ThreeViews): Span => {
    const cold = multiply(views[view], ratio);
    const most = mostOf(mostOf(cold, leastOf(add(cold, rise), bound)), multiply(highest.span, ratio));
    return leastOf(most, relieved);
  };
  return {
    code: 'highest-within-rating',
    governing: 'intensified',
    leastProbability: input.leastProbability,
    demand: { nominal: pressed('nominal'), stated: pressed('stated'), worstCase: pressed('worstCase') },
    capacity: same(weakest.span),
    failReason: 'intensified-above-rating',
    subject: weakest.subject,
    missing: [
      ...missing,
      ...highest.missing,
      ...pressing.rise.missing,
      ...pressing.ownRise.missing,
      ...pressing.bound.missing,
      ...weakest.missing,
      ...listUnknown(input, SETTING_FIELDS),
    ],
    marginAsked: input.marginsAsked['highest-within-rating'],
    errors: isRelieved
      ? { marginPa: weakest.span.lo - relieved.hi, halfWidthsPa: [] }
      : isAbove(fixed, weakest.span.lo)
        ? { marginPa: weakest.span.lo - fixed, halfWidthsPa: [] }
        : {
            marginPa: weakest.span.lo - ofSetting,
            halfWidthsPa: [settingHalfWidth.lo * factor, gaugeError.lo * factor],
          },
    parameters: { rodSideAreaRatio: factor, ...(rise.lo > 0 ? { thermalRisePa: rise.lo } : {}) },
    source: 'rod-side-intensification',
  };
}

function draftReliefOpening(figures: PressureFigures, relief: PlacedRelief): CheckDraft {
  const { input, setting, settingHalfWidth, gaugeError } = figures;
  const opening = toSpan(relief.openingPressurePa);
  const lowest = toLowestOpening(relief);
  return {
    code: 'highest-within-rating',
    governing: 'relief-opening',
    leastProbability: input.leastProbability,
    demand: settingViews(figures),
    capacity: { nominal: opening, stated: lowest, worstCase: lowest },
    failReason: 'relief-opens-below-setting',
    subject: relief.ref,
    missing: [
      ...(known(relief.openingPressurePa) === null ? [{ field: 'openingPressurePa', ref: relief.ref }] : []),
      ...listUnknown(input, SETTING_FIELDS),
    ],
    // A relief is meant to open not far above the setting: the margin asked of ratings is not asked of it.
    marginAsked: 0,
    errors: {
      marginPa: opening.lo - setting.lo,
      halfWidthsPa: [settingHalfWidth.lo, gaugeError.lo, relief.openingHalfWidthPa ?? 0],
    },
    parameters: {},
    source: 'pressure-chain',
  };
}

/** What stands in the tank line alone bears what stands there: the highest pressure of the return. */
function listOfReturn({ input }: PressureFigures): CheckDraft[] {
  if (input.isFromFacts !== true) return [];
  const returning = input.components.filter(({ lineFunctions }) => lineFunctions.every((line) => line === 'tank'));
  if (returning.length === 0) return [];
  const weakest = findWeakest(returning, ['tank']);
  const standing = toSpan(input.returnPressurePa);
  return [
    {
      code: 'highest-within-rating',
      governing: 'return-line',
      leastProbability: input.leastProbability,
      demand: same(standing),
      capacity: same(weakest.span),
      failReason: 'return-above-rating',
      subject: weakest.subject,
      missing: [
        ...weakest.missing,
        ...(known(input.returnPressurePa) === null ? [{ field: 'returnPressurePa', ref: null }] : []),
      ],
      marginAsked: input.marginsAsked['highest-within-rating'],
      errors: { marginPa: weakest.span.lo - standing.lo, halfWidthsPa: [] },
      parameters: {},
      source: 'pressure-chain',
    },
  ];
}

/** Check 4: the highest possible pressure stays within the ratings, by the worst of its pairs of demand and capacity. */
export function checkHighestWithinRating(figures: PressureFigures): ProvedCheck {
  const { input, highest, areaRatio } = figures;
  const drafts: CheckDraft[] = [];
  if (input.thermal.canTrap) drafts.push(draftTrappedOil(figures));
  const { canTrapOpen, unsaidOpen = [] } = input.thermal;
  if (canTrapOpen === true) drafts.push(draftTrappedOpen(figures, []));
  else if (unsaidOpen.length > 0) drafts.push(draftTrappedOpen(figures, unsaidOpen));
  for (const line of figures.blocked) drafts.push(draftIntensified(figures, line));
  for (const relief of listReliefs(input)) drafts.push(draftReliefOpening(figures, relief));
  drafts.push(...listOfReturn(figures));
  const [first, ...others] = draftSources(figures);
  const source = judgeCheck(first);
  const worst = worstOf(source, [...others, ...drafts].map(judgeCheck));
  const parameters: Record<string, number> = { ...source.parameters, ...worst.parameters };
  if (Number.isFinite(highest.span.hi)) parameters.highestPossiblePa = highest.span.hi;
  if (areaRatio !== null) parameters.rodSideAreaRatio = areaRatio;
  return { ...worst, parameters };
}

const LIMIT_REASONS = {
  workpiece: 'above-workpiece-limit',
  pad: 'pad-presses-too-hard',
  locator: 'locator-overloaded',
} as const;
const LIMIT_SOURCES = {
  workpiece: 'circuit-required-pressure',
  pad: 'pad-pressure',
  locator: 'holding-force',
} as const;

/** Check 9: the setting, warmed up, stays within what the workpiece allows. */
export function checkWorkpieceLimit(figures: PressureFigures): ProvedCheck {
  const { input, limit, required, rise, setting, settingHalfWidth, gaugeError } = figures;
  const check = judgeCheck({
    code: 'workpiece-limit',
    leastProbability: input.leastProbability,
    demand: settingViews(figures, rise.span),
    capacity: same(limit.span),
    failReason: LIMIT_REASONS[limit.by],
    subject: limit.subject,
    missing: [...limit.missing, ...rise.missing, ...listUnknown(input, SETTING_FIELDS)],
    marginAsked: input.marginsAsked['workpiece-limit'],
    errors: {
      marginPa: limit.span.lo - setting.lo - rise.span.lo,
      halfWidthsPa: [settingHalfWidth.lo, gaugeError.lo],
    },
    parameters: { thermalRisePa: rise.span.lo, requiredPa: required.span.lo },
    source: LIMIT_SOURCES[limit.by],
  });
  if (!limit.isLimiting) {
    const none = { nominal: null, stated: null, worstCase: null, ratio: null, probability: null };
    return { ...check, ...none, status: 'not-applicable', reason: 'not-limiting', subject: null, missing: [] };
  }
  // Whatever the setting: what holds the workpiece is more than what it bears.
  if (isAbove(required.span.lo, limit.span.hi)) return { ...check, status: 'fails', reason: 'no-window' };
  const held = byHolding(check, required);
  // Whether there is a window at all is not known before it is known what is required.
  if (held.status === 'fails' || held.status === 'unproven' || isExact(required.span)) return held;
  return { ...held, status: 'unproven', reason: 'missing', probability: null, missing: required.missing };
}
