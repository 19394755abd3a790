import type { FigureRef, LadderMissing } from '../pressure-ladder/pressure-ladder.types.js';
import type { ThreeViews } from '../pressure-ladder/judge-check.js';
import { add, isExact, leastOf, multiply, subtract, toSpan, ZERO, type Span } from '../pressure-ladder/span.js';
import type { CircuitCheck } from './circuit-checks.types.js';
import {
  asCapacity,
  asDemand,
  factPair,
  judgePairs,
  listMissing,
  same,
  toSpanFrom,
  type CheckPair,
} from './judge-pairs.js';

export interface SharedSupplyInput {
  /** falling point of this circuit's switch [Pa] */
  resetPointPa: number | null;
  switchAccuracyPa: number | null;
  gaugeErrorPa: number | null;
  restartPressurePa: number | null;
  restartHalfWidthPa: number | null;
  /** what the circuit has at most, however high a restart or a reading is; left out: not reckoned with */
  ceiling?: Ceiling;
  /** stations on the same power unit: lowest pressure in this circuit while that one clamps [Pa] */
  others: readonly { ref: FigureRef; lowestPressurePa: number | null }[];
  marginAsked: number;
  /** least probability with which it must hold [1]; left out: none is asked */
  leastProbability?: number | undefined;
}

/** The setting, and the lowest pressure to which the pump surely lifts the circuit. */
export interface Ceiling {
  settingPa: number | null;
  settingHalfWidthPa: number | null;
  lift: Span;
}

/** Of several pressures the circuit has the least; its half width goes with it. */
interface Bound {
  readonly pressure: Span;
  readonly halfWidth: Span;
}
const stated = ({ pressure, halfWidth }: Bound): Span => subtract(pressure, halfWidth);

function leastOfBounds(bounds: readonly [Bound, ...Bound[]], gauge: Span): ThreeViews {
  const [first, ...others] = bounds;
  return others.reduce<ThreeViews>(
    (least, bound) => leastViews(least, asCapacity(bound.pressure, bound.halfWidth, gauge)),
    asCapacity(first.pressure, first.halfWidth, gauge),
  );
}

const toBounds = (ceiling: Ceiling | undefined): readonly Bound[] =>
  ceiling === undefined
    ? []
    : [
        { pressure: toSpan(ceiling.settingPa), halfWidth: toSpan(ceiling.settingHalfWidthPa) },
        { pressure: ceiling.lift, halfWidth: ZERO },
      ];

const governs = (bounds: readonly [Bound, ...Bound[]]): Bound =>
  bounds.reduce((least, bound) => (stated(bound).lo < stated(least).lo ? bound : least));

/** The lowest pressure to which the pump lifts, where it is not known; one that nothing bounds need not be. */
const listOfLift = (lift: Span | undefined): readonly LadderMissing[] =>
  lift === undefined || isExact(lift) || lift.lo === Infinity
    ? []
    : listMissing({ field: 'lowestLiftPa', value: null });

function listOfCeiling(ceiling: Ceiling | undefined): readonly LadderMissing[] {
  if (ceiling === undefined) return [];
  const { settingPa, settingHalfWidthPa, lift } = ceiling;
  return [
    ...listMissing(
      { field: 'settingPa', value: settingPa },
      { field: 'settingHalfWidthPa', value: settingHalfWidthPa },
    ),
    ...listOfLift(lift),
  ];
}

/** Check 10: no other station's clamping pulls this circuit to its reset point, and the pump restarts above it. */
export function checkSharedSupply(input: SharedSupplyInput): CircuitCheck {
  const { resetPointPa, switchAccuracyPa, gaugeErrorPa, restartPressurePa, restartHalfWidthPa, others, ceiling } =
    input;
  const [reset, accuracy, gauge] = [toSpan(resetPointPa), toSpan(switchAccuracyPa), toSpan(gaugeErrorPa)];
  const demand = asDemand(reset, accuracy, gauge);
  const ownFigures = [
    { field: 'resetPointPa', value: resetPointPa },
    { field: 'switchAccuracyPa', value: switchAccuracyPa },
    { field: 'gaugeErrorPa', value: gaugeErrorPa },
  ];
  const pair = (
    reached: Bound,
    failReason: CheckPair['failReason'],
    subject: FigureRef | null,
    missing: readonly LadderMissing[],
    source: string,
  ): CheckPair => {
    // What was read at the air of that day, or is set as a restart, is no more than what the circuit has.
    const bounds = [reached, ...toBounds(ceiling)] as const;
    const { pressure, halfWidth } = governs(bounds);
    return {
      kind: 'pressure',
      demand,
      capacity: leastOfBounds(bounds, ZERO),
      failReason,
      subject,
      missing: [...missing, ...listMissing(...ownFigures), ...listOfCeiling(ceiling)],
      source,
      errors: { marginPa: pressure.lo - reset.lo, halfWidthsPa: [accuracy.lo, gauge.lo, halfWidth.lo] },
    };
  };
  const pairs = others.map(({ ref, lowestPressurePa }) =>
    pair(
      { pressure: toSpan(lowestPressurePa), halfWidth: ZERO },
      'other-station-pulls-down',
      ref,
      listMissing({ field: 'lowestPressurePa', value: lowestPressurePa, ref }),
      'clamp-sequence',
    ),
  );
  const restart = { pressure: toSpan(restartPressurePa), halfWidth: toSpan(restartHalfWidthPa) };
  const ofRestart = [
    { field: 'restartPressurePa', value: restartPressurePa },
    { field: 'restartHalfWidthPa', value: restartHalfWidthPa },
  ];
  pairs.push(pair(restart, 'restart-below-reset', null, listMissing(...ofRestart), 'switch-window'));
  return judgePairs('shared-supply', pairs, input.marginAsked, 'missing', input.leastProbability);
}

const leastViews = (a: ThreeViews, b: ThreeViews): ThreeViews => ({
  nominal: leastOf(a.nominal, b.nominal),
  stated: leastOf(a.stated, b.stated),
  worstCase: leastOf(a.worstCase, b.worstCase),
});

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
  /** oil shut in that warms up: rise of pressure in both lines, and the largest area upon the unclamp line over that upon the clamp line;
   *  left out: not reckoned with */
  warming?: { rise: Span; ratio: Span; missing: readonly LadderMissing[] };
  /** beside it: reliefs that may let out what is shut in, and the lowest at which each opens; left out: there is none [Pa] */
  lettingOut?: readonly { ref: FigureRef; opening: Span; halfWidthPa: number; missing: readonly LadderMissing[] }[];
  /** pressure is proved again before the pallet enters the machine */
  isProvedAgain: boolean | null;
  /** the switch that proves it senses the clamps; null: nobody has said; left out: it does */
  sensesClamps?: boolean | null;
  marginAsked: number;
  /** least probability with which it must hold [1]; left out: none is asked */
  leastProbability?: number | undefined;
}

/** What a rise of pressure in both lines takes of the clamping force, as pressure in the clamp line: nothing of what pushes. */
const lostToWarming = ({ rise, ratio }: { rise: Span; ratio: Span }): Span =>
  multiply(rise, { lo: Math.max(0, ratio.lo - 1), hi: Math.max(0, ratio.hi - 1) });

/**
 * Check 11: without its supply the circuit keeps what it needs for the stated time, leak included: as it cools, and as it warms up. Then both
 * lines rise alike, and a clamp that pulls has the larger area in the unclamp line: it holds less while its switch reads more.
 */
export function checkHoldsWithoutSupply(input: HoldsWithoutSupplyInput): CircuitCheck {
  if (input.isDecoupled === false) return judgePairs('holds-without-supply', [], input.marginAsked, 'always-supplied');
  if (input.isDecoupled === null) {
    const unsaid = factPair(null, 'isDecoupled', 'falls-below-required', 'hold-time');
    return judgePairs('holds-without-supply', [unsaid], input.marginAsked, 'always-supplied');
  }
  const leak = multiply(toSpan(input.decayRatePaPerS), toSpan(input.timeWithoutS));
  const cooling = multiply(toSpan(input.coolingK), toSpan(input.pressurePerKelvinPaPerK));
  const lost = add(leak, cooling);
  const error = toSpan(input.gaugeErrorPa);
  const required = toSpanFrom(input.requiredPressurePa, input.requiredAtLeastPa);
  const { restart, lift, requiredSpreadsPa: spreads = [] } = input;
  const isSpreadKnown = !spreads.includes(null);
  // It is the least pressure at which the pump may have left the circuit.
  const bounds: [Bound, ...Bound[]] = [
    { pressure: toSpan(input.settingPa), halfWidth: toSpan(input.settingHalfWidthPa) },
    ...(restart === undefined
      ? []
      : [{ pressure: toSpan(restart.pressurePa), halfWidth: toSpan(restart.halfWidthPa) }]),
  ];
  const fromGauge = leastOfBounds(bounds, error);
  // What the pump lifts to was read on no gauge.
  const start = lift === undefined ? fromGauge : leastViews(fromGauge, same(lift));
  const all: [Bound, ...Bound[]] = lift === undefined ? bounds : [...bounds, { pressure: lift, halfWidth: ZERO }];
  const from = governs(all);
  const leftAfter = (taken: Span): ThreeViews => ({
    nominal: subtract(start.nominal, taken),
    stated: subtract(start.stated, taken),
    worstCase: subtract(start.worstCase, taken),
  });
  const warmth = input.warming === undefined ? ZERO : lostToWarming(input.warming);
  const ofRestart =
    restart === undefined
      ? []
      : [
          { field: 'restartPressurePa', value: restart.pressurePa },
          { field: 'restartHalfWidthPa', value: restart.halfWidthPa },
        ];
  const ofStart = ['requiredPressurePa', 'settingPa', 'settingHalfWidthPa', 'gaugeErrorPa', 'decayRatePaPerS', 'timeWithoutS'] as const; // prettier-ignore
  type Field = (typeof ofStart)[number] | 'coolingK' | 'pressurePerKelvinPaPerK';
  const ofCooled = ['requiredPressurePa', 'decayRatePaPerS', 'timeWithoutS', 'coolingK', 'pressurePerKelvinPaPerK'] as const; // prettier-ignore
  const common = (fields: readonly Field[], more: readonly LadderMissing[]) => ({
    kind: 'pressure' as const,
    // How much more may be required is a matter of probability; where nobody knows, nothing bounds it.
    demand: isSpreadKnown ? same(required) : { ...same(required), worstCase: { lo: required.lo, hi: Infinity } },
    missing: [
      ...listMissing(...fields.map((field) => ({ field, value: input[field] }))),
      ...more,
      ...(isSpreadKnown ? [] : [{ field: 'requiredSpreadPa', ref: null }]),
    ],
    source: 'hold-time',
  });
  const part = (
    failReason: CheckPair['failReason'],
    taken: Span,
    fields: readonly Field[],
    more: readonly LadderMissing[],
  ): CheckPair => ({
    ...common(fields, [...listMissing(...ofRestart), ...listOfLift(lift), ...more]),
    capacity: leftAfter(taken),
    failReason,
    subject: null,
    errors: {
      marginPa: from.pressure.lo - taken.lo - required.lo,
      halfWidthsPa: [from.halfWidth.lo, error.lo, ...spreads.map(Number)],
    },
  });
  const rise = input.warming?.rise ?? ZERO;
  // From what a relief leaves in the clamp line, which opens at its opening less its tolerance.
  const ofRelief = (
    { ref, opening, halfWidthPa, missing }: NonNullable<HoldsWithoutSupplyInput['lettingOut']>[number],
    failReason: CheckPair['failReason'],
    taken: Span,
    fields: readonly Field[],
    more: readonly LadderMissing[],
  ): CheckPair => ({
    ...common(fields, [...missing, ...more]),
    capacity: asCapacity(subtract(opening, taken), toSpan(halfWidthPa)),
    failReason,
    subject: ref,
    errors: { marginPa: opening.lo - taken.lo - required.lo, halfWidthsPa: [halfWidthPa, ...spreads.map(Number)] },
  });
  const ofReliefs = (input.lettingOut ?? []).flatMap((relief) => {
    const { ratio = ZERO, missing = [] } = input.warming ?? {};
    if (rise.hi === 0) return [];
    // The line of the clamps stays there while the other one rises; and what has left is missing when it is cold again.
    const against = multiply(rise, ratio);
    return [
      ofRelief(relief, 'relief-holds-clamp-line', against, ['requiredPressurePa'], missing),
      ofRelief(relief, 'relief-lets-oil-out', add(lost, rise), ofCooled, missing),
    ];
  });
  return judgePairs(
    'holds-without-supply',
    [
      part('falls-below-required', lost, [...ofStart, 'coolingK', 'pressurePerKelvinPaPerK'], []),
      ...(input.warming === undefined || (warmth.lo === 0 && warmth.hi === 0)
        ? []
        : [part('warms-below-required', add(leak, warmth), ofStart, input.warming.missing)]),
      ...ofReliefs,
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

export interface ReservoirInput {
  /** oil that every circuit of the power unit takes to clamp: strokes and compression [m3] */
  circuits: readonly {
    ref: FigureRef;
    clampVolumeM3: number | null;
    returnVolumeM3: number | null;
    /** what is to be found out for the volumes, where they are not known; left out: the volumes themselves */
    missing?: readonly LadderMissing[];
  }[];
  /** between the highest and the lowest level allowed [m3] */
  usableVolumeM3: number | null;
  /** between the level with everything clamped and the brim [m3] */
  freeVolumeM3: number | null;
  marginAsked: number;
}

function sum(spans: readonly Span[]): Span {
  return spans.reduce(add, ZERO);
}

/** Check 13: the reservoir's usable oil covers all strokes and compression, and it takes the return without overflow. */
export function checkReservoir({ circuits, usableVolumeM3, freeVolumeM3, marginAsked }: ReservoirInput): CircuitCheck {
  const none = circuits.length === 0 ? [{ field: 'circuits', ref: null }] : [];
  const taken = circuits.length === 0 ? toSpan(null) : sum(circuits.map(({ clampVolumeM3 }) => toSpan(clampVolumeM3)));
  const returned =
    circuits.length === 0 ? toSpan(null) : sum(circuits.map(({ returnVolumeM3 }) => toSpan(returnVolumeM3)));
  return judgePairs(
    'reservoir',
    [
      {
        kind: 'volume',
        demand: same(taken),
        capacity: same(toSpan(usableVolumeM3)),
        failReason: 'reservoir-too-small',
        subject: null,
        missing: [
          ...none,
          ...circuits.flatMap(({ ref, clampVolumeM3, missing = [] }) =>
            clampVolumeM3 === null && missing.length > 0
              ? missing
              : listMissing({ field: 'clampVolumeM3', value: clampVolumeM3, ref }),
          ),
          ...listMissing({ field: 'usableVolumeM3', value: usableVolumeM3 }),
        ],
        source: 'compression-volume',
      },
      {
        kind: 'volume',
        demand: same(returned),
        capacity: same(toSpan(freeVolumeM3)),
        failReason: 'reservoir-overflows',
        subject: null,
        missing: [
          ...none,
          ...circuits.flatMap(({ ref, returnVolumeM3, missing = [] }) =>
            returnVolumeM3 === null && missing.length > 0
              ? missing
              : listMissing({ field: 'returnVolumeM3', value: returnVolumeM3, ref }),
          ),
          ...listMissing({ field: 'freeVolumeM3', value: freeVolumeM3 }),
        ],
        source: 'compression-volume',
        isBehind: true,
      },
    ],
    marginAsked,
    'missing',
  );
}
