import type { FigureRef, LadderMissing } from '../pressure-ladder/pressure-ladder.types.js';
import type { ThreeViews } from '../pressure-ladder/judge-check.js';
import { add, leastOf, multiply, subtract, toSpan, UNBOUNDED, ZERO, type Span } from '../pressure-ladder/span.js';
import type { CircuitCheck } from './circuit-checks.types.js';
import {
  asCapacity,
  asDemand,
  factPair,
  judgePairs,
  listMissing,
  listMissingOf,
  same,
  type CheckPair,
} from './judge-pairs.js';
import type { LoadAndCapacity } from './support-load.js';

export interface SharedSupplyInput {
  /** falling point of this circuit's switch [Pa] */
  resetPointPa: number | null;
  switchAccuracyPa: number | null;
  gaugeErrorPa: number | null;
  restartPressurePa: number | null;
  restartHalfWidthPa: number | null;
  /** lowest pressure to which the pump surely lifts the circuit [Pa]; left out: not reckoned with */
  lowestLiftPa?: number | null;
  /** stations on the same power unit: lowest pressure in this circuit while that one clamps [Pa] */
  others: readonly { ref: FigureRef; lowestPressurePa: number | null }[];
  marginAsked: number;
}

/** Check 10: no other station's clamping pulls this circuit to its reset point, and the pump restarts above it. */
export function checkSharedSupply(input: SharedSupplyInput): CircuitCheck {
  const { resetPointPa, switchAccuracyPa, gaugeErrorPa, restartPressurePa, restartHalfWidthPa, others, marginAsked } =
    input;
  const demand = asDemand(toSpan(resetPointPa), toSpan(switchAccuracyPa), toSpan(gaugeErrorPa));
  const own = [
    { field: 'resetPointPa', value: resetPointPa },
    { field: 'switchAccuracyPa', value: switchAccuracyPa },
    { field: 'gaugeErrorPa', value: gaugeErrorPa },
  ];
  const lift = toLift(input.lowestLiftPa);
  const noLift = input.lowestLiftPa === null ? [{ field: 'lowestLiftPa', value: null }] : [];
  const pairs: CheckPair[] = others.map(({ ref, lowestPressurePa }) => ({
    kind: 'pressure',
    demand,
    // What was read at the air of that day is no more than what the lowest air allows.
    capacity: same(leastOf(toSpan(lowestPressurePa), lift)),
    failReason: 'other-station-pulls-down',
    subject: ref,
    missing: listMissing({ field: 'lowestPressurePa', value: lowestPressurePa, ref }, ...own, ...noLift),
    source: 'clamp-sequence',
  }));
  pairs.push({
    kind: 'pressure',
    demand,
    capacity: leastViews(asCapacity(toSpan(restartPressurePa), toSpan(restartHalfWidthPa)), same(lift)),
    failReason: 'restart-below-reset',
    subject: null,
    missing: listMissing(
      { field: 'restartPressurePa', value: restartPressurePa },
      { field: 'restartHalfWidthPa', value: restartHalfWidthPa },
      ...own,
      ...noLift,
    ),
    source: 'switch-window',
  });
  return judgePairs('shared-supply', pairs, marginAsked, 'missing');
}

const toLift = (lowestLiftPa: number | null | undefined): Span =>
  lowestLiftPa === undefined ? UNBOUNDED : toSpan(lowestLiftPa);
const leastViews = (a: ThreeViews, b: ThreeViews): ThreeViews => ({
  nominal: leastOf(a.nominal, b.nominal),
  stated: leastOf(a.stated, b.stated),
  worstCase: leastOf(a.worstCase, b.worstCase),
});

export interface HoldsWithoutSupplyInput {
  /** false: the circuit is never without its supply; null: nobody has said */
  isDecoupled: boolean | null;
  requiredPressurePa: number | null;
  settingPa: number | null;
  settingHalfWidthPa: number | null;
  /** at which the pump starts again: above it, it may have stopped; left out: it always lifts to the setting */
  restart?: { pressurePa: number | null; halfWidthPa: number | null };
  /** lowest pressure to which the pump surely lifts the circuit [Pa]; left out: not reckoned with */
  lowestLiftPa?: number | null;
  gaugeErrorPa: number | null;
  decayRatePaPerS: number | null;
  timeWithoutS: number | null;
  /** cooling to be reckoned with [K], not below zero */
  coolingK: number | null;
  /** fall of pressure for each kelvin of cooling [Pa/K] */
  pressurePerKelvinPaPerK: number | null;
  /** pressure is proved again before the pallet enters the machine */
  isProvedAgain: boolean | null;
  /** the switch that proves it senses the clamps; null: nobody has said; left out: it does */
  sensesClamps?: boolean | null;
  marginAsked: number;
}

/** Check 11: without its supply the circuit keeps what it needs for the stated time, leak and cooling included. */
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
  const { restart } = input;
  const fromSetting = asCapacity(toSpan(input.settingPa), toSpan(input.settingHalfWidthPa), error);
  // It is the least pressure at which the pump may have left the circuit.
  const fromRestart =
    restart === undefined
      ? fromSetting
      : leastViews(fromSetting, asCapacity(toSpan(restart.pressurePa), toSpan(restart.halfWidthPa), error));
  const start = leastViews(fromRestart, same(toLift(input.lowestLiftPa)));
  const left = {
    nominal: subtract(start.nominal, lost),
    stated: subtract(start.stated, lost),
    worstCase: subtract(start.worstCase, lost),
  };
  const more = [
    ...(restart === undefined
      ? []
      : [
          { field: 'restartPressurePa', value: restart.pressurePa },
          { field: 'restartHalfWidthPa', value: restart.halfWidthPa },
        ]),
    ...(input.lowestLiftPa === undefined ? [] : [{ field: 'lowestLiftPa', value: input.lowestLiftPa }]),
  ];
  const figures = ['requiredPressurePa', 'settingPa', 'settingHalfWidthPa', 'gaugeErrorPa', 'decayRatePaPerS', 'timeWithoutS', 'coolingK', 'pressurePerKelvinPaPerK'] as const; // prettier-ignore
  return judgePairs(
    'holds-without-supply',
    [
      {
        kind: 'pressure',
        demand: same(toSpan(input.requiredPressurePa)),
        capacity: left,
        failReason: 'falls-below-required',
        subject: null,
        missing: listMissing(...figures.map((field) => ({ field, value: input[field] })), ...more),
        source: 'hold-time',
      },
      factPair(input.isProvedAgain, 'isProvedAgain', 'not-proved-again', 'interlock-proof'),
      ...(input.sensesClamps === undefined
        ? []
        : [factPair(input.sensesClamps, 'sensing', 'switch-senses-supply', 'interlock-proof')]),
    ],
    input.marginAsked,
    'always-supplied',
  );
}

export interface OrderAndSpeedInput {
  supports: readonly {
    ref: FigureRef;
    /** pressure at which it is surely locked [Pa] */
    lockPressurePa: number | null;
    /** pressure at which the clamps begin to load the workpiece [Pa] */
    clampsLoadFromPa: number | null;
    /** clamping and cutting forces that it must carry, and what it carries, at the lowest pressure [N] */
    loadN: number | null;
    capacityN: number | null;
    /** the same at the highest pressure; left out: the load does not grow with it */
    atHighest?: LoadAndCapacity;
  }[];
  swingClamps: readonly {
    ref: FigureRef;
    flowM3PerS: number | null;
    highestFlowM3PerS: number | null;
    /** setting with its tolerance, and what the chart allows at this arm [Pa] */
    pressurePa: number | null;
    armPressurePa: number | null;
  }[];
  marginAsked: number;
}

/** Check 12: supports lock before clamps load them and carry it; no swing clamp above its flow, nor its pressure at that arm. */
export function checkOrderAndSpeed({ supports, swingClamps, marginAsked }: OrderAndSpeedInput): CircuitCheck {
  const pair = (
    kind: CheckPair['kind'],
    ref: FigureRef,
    demand: { field: string; value: number | null },
    capacity: { field: string; value: number | null },
    failReason: CheckPair['failReason'],
    source: string,
  ): CheckPair => ({
    kind,
    demand: same(toSpan(demand.value)),
    capacity: same(toSpan(capacity.value)),
    failReason,
    subject: ref,
    missing: listMissingOf(ref, demand, capacity),
    source,
  });
  const pairs = [
    ...supports.flatMap(({ ref, lockPressurePa, clampsLoadFromPa, loadN, capacityN, atHighest }) => [
      pair(
        'pressure',
        ref,
        { field: 'lockPressurePa', value: lockPressurePa },
        { field: 'clampsLoadFromPa', value: clampsLoadFromPa },
        'support-locks-late',
        'clamp-sequence',
      ),
      pair(
        'force',
        ref,
        { field: 'loadN', value: loadN },
        { field: 'capacityN', value: capacityN },
        'support-overloaded',
        'holding-force',
      ),
      ...(atHighest === undefined
        ? []
        : [
            pair(
              'force',
              ref,
              { field: 'loadN', value: atHighest.loadN },
              { field: 'capacityN', value: atHighest.capacityN },
              'support-overloaded',
              'holding-force',
            ),
          ]),
    ]),
    ...swingClamps.flatMap(({ ref, flowM3PerS, highestFlowM3PerS, pressurePa, armPressurePa }) => [
      pair(
        'flow',
        ref,
        { field: 'flowM3PerS', value: flowM3PerS },
        { field: 'highestFlowM3PerS', value: highestFlowM3PerS },
        'flow-too-high',
        'cylinder-speed',
      ),
      pair(
        'pressure',
        ref,
        { field: 'pressurePa', value: pressurePa },
        { field: 'armPressurePa', value: armPressurePa },
        'pressure-above-arm-chart',
        'swing-clamp-force',
      ),
    ]),
  ];
  return judgePairs('order-and-speed', pairs, marginAsked, 'nothing-to-order');
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
