import type { ThreeViews } from '../pressure-ladder/judge-check.js';
import type { FigureRef, MissingFigure } from '../pressure-ladder/pressure-ladder.types.js';
import { add, leastOf, mostOf, multiply, subtract, toSpan, ZERO, type Span } from '../pressure-ladder/span.js';
import type { CircuitCheck } from './circuit-checks.types.js';
import { asCapacity, factPair, judgePairs, listMissing, same, toSpanFrom, type CheckPair } from './judge-pairs.js';
import type { LeakBehind } from './leak-behind.js';
import { leastOfBounds, leastViews, listOfLift, type Bound } from './least-pressure.js';

/** A relief that may let out what is shut in: at which it opens, and at which it shuts again when it has [Pa]. */
export interface LettingOut {
  ref: FigureRef;
  opening: Span;
  reseat: Span;
  halfWidthPa: number;
  missing: readonly MissingFigure[];
  reseatMissing: readonly MissingFigure[];
}

/** Oil shut in that warms up. */
export interface Warming {
  /** rise of pressure in the clamp line */
  rise: Span;
  /** what the rise in the unclamp line takes of it by the areas of clamps, as far as it is not in what is required already */
  opposed: Span;
  missing: readonly MissingFigure[];
  /** by how much more leaks of oil as thin [1], and what is missing for what leaks of it */
  thinning: Span;
  leakMissing: readonly MissingFigure[];
}

/** A leak past the pistons of clamps that oil moves both ways, into an unclamp line that is shut in too. */
export interface OpposingLeak extends LeakBehind {
  /** what the unclamp line's pressure works upon, over what the clamp line's does [1] */
  readonly opposed: Span;
}

export interface HoldsWithoutSupplyInput {
  /** false: the circuit is never without its supply; null: nobody has said */
  isDecoupled: boolean | null;
  requiredPressurePa: number | null;
  /** what is required at least, where the whole is not known [Pa] */
  requiredAtLeastPa?: number;
  /** widths by which computed operations may require more; null: not known; left out: none are computed [Pa] */
  requiredSpreadsPa?: readonly (number | null)[];
  settingPa: number | null;
  settingHalfWidthPa: number | null;
  /** at which the pump starts again: above it, it may have stopped; left out: it always lifts to the setting */
  restart?: { pressurePa: number | null; halfWidthPa: number | null };
  /** lowest pressure to which the pump surely lifts the circuit; left out: not reckoned with */
  lift?: Span;
  gaugeErrorPa: number | null;
  decayRatePaPerS: number | null;
  timeWithoutS: number | null;
  /** cooling to be reckoned with [K], not below zero */
  coolingK: number | null;
  /** fall of pressure for each kelvin of cooling [Pa/K] */
  pressurePerKelvinPaPerK: number | null;
  /** oil shut in that warms up; left out: not reckoned with */
  warming?: Warming;
  /** left out: not reckoned with */
  leakBehind?: OpposingLeak;
  /** beside it: reliefs that may let out what is shut in; left out: there is none */
  lettingOut?: readonly LettingOut[];
  /** pressure is proved again before the pallet enters the machine */
  isProvedAgain: boolean | null;
  /** the switch that proves it senses the clamps; null: nobody has said; left out: it does */
  sensesClamps?: boolean | null;
  marginAsked: number;
  /** least probability with which it must hold [1]; left out: none is asked */
  leastProbability?: number | undefined;
}

/** What warmth takes of the clamping force, as pressure in the clamp line, which rises too: nothing where the unclamp line takes less. */
function lostToWarming({ rise, opposed }: { rise: Span; opposed: Span }): Span {
  const { lo, hi } = subtract(opposed, rise);
  return { lo: Math.max(0, lo), hi: Math.max(0, hi) };
}

type Field =
  | 'requiredPressurePa'
  | 'settingPa'
  | 'settingHalfWidthPa'
  | 'gaugeErrorPa'
  | 'decayRatePaPerS'
  | 'timeWithoutS'
  | 'coolingK'
  | 'pressurePerKelvinPaPerK';
const LEAKS: readonly Field[] = ['decayRatePaPerS', 'timeWithoutS'];
const COOLS: readonly Field[] = ['coolingK', 'pressurePerKelvinPaPerK'];
const STARTS: readonly Field[] = ['requiredPressurePa', 'settingPa', 'settingHalfWidthPa', 'gaugeErrorPa'];

/** The least pressure at which the pump may have left the circuit, which figure decides it, and what is missing for it. */
interface Start {
  readonly views: ThreeViews;
  /** each that bounds it, with whether it was read on a gauge */
  readonly bounds: readonly (Bound & { readonly isRead: boolean })[];
  readonly missing: readonly MissingFigure[];
}

function findStart({ settingPa, settingHalfWidthPa, restart, lift, gaugeErrorPa }: HoldsWithoutSupplyInput): Start {
  const bounds: [Bound, ...Bound[]] = [
    { pressure: toSpan(settingPa), halfWidth: toSpan(settingHalfWidthPa) },
    ...(restart === undefined
      ? []
      : [{ pressure: toSpan(restart.pressurePa), halfWidth: toSpan(restart.halfWidthPa) }]),
  ];
  const fromGauge = leastOfBounds(bounds, toSpan(gaugeErrorPa));
  const ofRestart =
    restart === undefined
      ? []
      : listMissing(
          { field: 'restartPressurePa', value: restart.pressurePa },
          { field: 'restartHalfWidthPa', value: restart.halfWidthPa },
        );
  return {
    // What the pump lifts to was read on no gauge.
    views: lift === undefined ? fromGauge : leastViews(fromGauge, same(lift)),
    bounds: [
      ...bounds.map((bound) => ({ ...bound, isRead: true })),
      ...(lift === undefined || lift.lo === Infinity ? [] : [{ pressure: lift, halfWidth: ZERO, isRead: false }]),
    ],
    missing: [...ofRestart, ...listOfLift(lift)],
  };
}

/** What every part of the check has: the demand, and what is missing for it and for some fields. */
function toCommon(input: HoldsWithoutSupplyInput, fields: readonly Field[], more: readonly MissingFigure[]) {
  const required = toSpanFrom(input.requiredPressurePa, input.requiredAtLeastPa);
  const { requiredSpreadsPa: spreads = [] } = input;
  const isSpreadKnown = !spreads.includes(null);
  return {
    kind: 'pressure' as const,
    // How much more may be required is a matter of probability; where nobody knows, nothing bounds it.
    demand: isSpreadKnown ? same(required) : { ...same(required), worstCase: { lo: required.lo, hi: Infinity } },
    missing: [
      ...listMissing(...fields.map((field) => ({ field, value: input[field] }))),
      ...more,
      ...(isSpreadKnown ? [] : [{ field: 'requiredSpreadPa', ref: null }]),
    ],
    source: 'hold-time',
    spreads: spreads.map(Number),
    requiredPa: required.lo,
  };
}

/** What is left of the start when some of it has been lost. */
function toLeft(
  input: HoldsWithoutSupplyInput,
  { views, bounds, missing: ofStart }: Start,
  failReason: CheckPair['failReason'],
  taken: Span,
  { fields, missing }: { fields: readonly Field[]; missing: readonly MissingFigure[] },
): CheckPair {
  const gaugePa = toSpan(input.gaugeErrorPa).lo;
  const { spreads, requiredPa, ...common } = toCommon(input, [...STARTS, ...fields], [...ofStart, ...missing]);
  return {
    ...common,
    capacity: {
      nominal: subtract(views.nominal, taken),
      stated: subtract(views.stated, taken),
      worstCase: subtract(views.worstCase, taken),
    },
    failReason,
    subject: null,
    errors: bounds.map(({ pressure, halfWidth, isRead }) => ({
      marginPa: pressure.lo - taken.lo - requiredPa,
      halfWidthsPa: [halfWidth.lo, isRead ? gaugePa : 0, ...spreads],
    })),
  };
}

/** From what a relief leaves in the clamp line, which may open, or shut again, as much lower as its tolerance. */
function toLeftOfRelief(
  input: HoldsWithoutSupplyInput,
  failReason: CheckPair['failReason'],
  taken: Span,
  {
    relief: { ref, halfWidthPa },
    from,
    fields,
    missing,
  }: { relief: LettingOut; from: Span; fields: readonly Field[]; missing: readonly MissingFigure[] },
): CheckPair {
  const { spreads, requiredPa, ...common } = toCommon(input, ['requiredPressurePa', ...fields], missing);
  return {
    ...common,
    capacity: asCapacity(subtract(from, taken), toSpan(halfWidthPa)),
    failReason,
    subject: ref,
    errors: { marginPa: from.lo - taken.lo - requiredPa, halfWidthsPa: [halfWidthPa, ...spreads] },
  };
}

/** A rise of pressure as a share of the setting, from which the leak was timed [1]. */
const overSetting = (rise: Span, { settingPa }: HoldsWithoutSupplyInput): Span =>
  settingPa !== null && settingPa > 0 ? multiply(rise, toSpan(1 / settingPa)) : multiply(rise, toSpan(null));

/** The oil may warm up to where a relief opens, by everything that may be off. */
const mayOpen = (input: HoldsWithoutSupplyInput, { opening, halfWidthPa }: LettingOut, rise: Span): boolean =>
  opening.lo - halfWidthPa <=
  toSpan(input.settingPa).hi + toSpan(input.settingHalfWidthPa).hi + toSpan(input.gaugeErrorPa).hi + rise.hi;

/** What leaks meanwhile: of oil that warms up the more, the thinner it is and the higher its pressure rises (laminar flow through a gap). */
function findLeak(input: HoldsWithoutSupplyInput): Span {
  const { decayRatePaPerS, timeWithoutS, warming } = input;
  const leak = multiply(toSpan(decayRatePaPerS), toSpan(timeWithoutS));
  if (leak.hi === 0) return leak;
  if (warming === undefined) return withLeakBehind(leak, input);
  // Oil that warms up is no thicker than it was.
  const thin = multiply(leak, mostOf(warming.thinning, toSpan(1)));
  return withLeakBehind(add(thin, multiply(thin, overSetting(warming.rise, input))), input);
}

/** With what it works against the clamps from behind, where its pressure comes no higher than that of the clamp line. */
function withLeakBehind(
  leak: Span,
  { leakBehind, warming, settingPa, settingHalfWidthPa, gaugeErrorPa }: HoldsWithoutSupplyInput,
): Span {
  if (leakBehind === undefined) return leak;
  const setting = add(toSpan(settingPa), add(toSpan(settingHalfWidthPa), toSpan(gaugeErrorPa)));
  const highest = add(setting, warming?.rise ?? ZERO);
  return add(leak, multiply(leastOf(multiply(leak, leakBehind.ratio), highest), leakBehind.opposed));
}

/** What it loses meanwhile, by what it loses it; each is a part of the check. */
function listLosses(input: HoldsWithoutSupplyInput): CheckPair[] {
  const { warming, lettingOut = [] } = input;
  const leak = findLeak(input);
  const lost = add(leak, multiply(toSpan(input.coolingK), toSpan(input.pressurePerKelvinPaPerK)));
  const cold = [...LEAKS, ...COOLS];
  const start = findStart(input);
  // What leaked while it was warm is missing once it is cold again.
  const leakMissing = [
    ...(warming?.leakMissing ?? []),
    // What does not leak rises nowhere.
    ...(leak.hi === 0 ? [] : (input.leakBehind?.missing ?? [])),
  ];
  const cooled = toLeft(input, start, 'falls-below-required', lost, { fields: cold, missing: leakMissing });
  if (warming === undefined || (warming.rise.hi === 0 && warming.opposed.hi === 0)) return [cooled];
  const { rise, opposed, missing } = warming;
  const warmth = lostToWarming(warming);
  // The line of the clamps stays where a relief holds it while the other one rises; and what has left is missing when it is cold again.
  const ofReliefs = lettingOut.flatMap((relief) => {
    // Once open it lets oil out until it shuts again, while the other line goes on rising.
    const left = mayOpen(input, relief, rise)
      ? { from: relief.reseat, missing: [...relief.missing, ...relief.reseatMissing, ...leakMissing, ...missing] }
      : { from: relief.opening, missing: [...relief.missing, ...leakMissing, ...missing] };
    return [
      toLeftOfRelief(input, 'relief-holds-clamp-line', add(leak, opposed), { relief, fields: LEAKS, ...left }),
      toLeftOfRelief(input, 'relief-lets-oil-out', add(lost, rise), { relief, fields: cold, ...left }),
    ];
  });
  if (warmth.lo === 0 && warmth.hi === 0) return [cooled, ...ofReliefs];
  return [
    cooled,
    toLeft(input, start, 'warms-below-required', add(leak, warmth), {
      fields: LEAKS,
      missing: [...leakMissing, ...missing],
    }),
    ...ofReliefs,
  ];
}

/**
 * Check 11: without its supply the circuit keeps what it needs for the stated time, leak included: as it cools, and as it warms up. Then both
 * lines rise, each by what its oil and walls give way, and a clamp that pulls has the larger area in the unclamp line: it holds less while
 * its switch reads more.
 */
export function checkHoldsWithoutSupply(input: HoldsWithoutSupplyInput): CircuitCheck {
  if (input.isDecoupled === false) return judgePairs('holds-without-supply', [], input.marginAsked, 'always-supplied');
  if (input.isDecoupled === null) {
    const unsaid = factPair(null, 'isDecoupled', 'falls-below-required', 'hold-time');
    return judgePairs('holds-without-supply', [unsaid], input.marginAsked, 'always-supplied');
  }
  return judgePairs(
    'holds-without-supply',
    [
      ...listLosses(input),
      factPair(input.isProvedAgain, 'isProvedAgain', 'not-proved-again', 'interlock-proof'),
      ...(input.sensesClamps === undefined
        ? []
        : [factPair(input.sensesClamps, 'sensing', 'switch-senses-supply', 'interlock-proof')]),
    ],
    input.marginAsked,
    'always-supplied',
    input.leastProbability,
  );
}
