import type { FigureRef, MissingFigure } from '../pressure-ladder/pressure-ladder.types.js';
import { add, toSpan, ZERO, type Span } from '../pressure-ladder/span.js';
import type { CircuitCheck } from './circuit-checks.types.js';
import { asDemand, judgePairs, listMissing, same, type CheckPair } from './judge-pairs.js';
import { leastOfBounds, listOfCeiling, toBounds, type Bound, type Ceiling } from './least-pressure.js';

/** A station on the same power unit, and the lowest pressure in this circuit while that one clamps. */
export interface SharingCircuit {
  ref: FigureRef;
  /** as it was read [Pa] */
  lowestPressurePa: number | null;
  /** read with colder oil than at work, it is surely no less than this then; null: nobody knows; left out: it was not [Pa] */
  atLeastPa?: number | null;
}

export interface SharedSupplyInput {
  /** falling point of this circuit's switch [Pa] */
  resetPointPa: number | null;
  switchAccuracyPa: number | null;
  gaugeErrorPa: number | null;
  /** of the gauge that the lowest pressures were read on, where another one sets this circuit; null: not known; left out: the same [Pa] */
  readingErrorPa?: number | null;
  restartPressurePa: number | null;
  restartHalfWidthPa: number | null;
  /** what the circuit has at most, however high a restart or a reading is; left out: not reckoned with */
  ceiling?: Ceiling;
  others: readonly SharingCircuit[];
  marginAsked: number;
  /** least probability with which it must hold [1]; left out: none is asked */
  leastProbability?: number | undefined;
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
    missing: readonly MissingFigure[],
    source: string,
  ): CheckPair => {
    // What was read at the air of that day, or is set as a restart, is no more than what the circuit has.
    const bounds = [reached, ...toBounds(ceiling)] as const;
    return {
      kind: 'pressure',
      demand,
      capacity: leastOfBounds(bounds, ZERO),
      failReason,
      subject,
      missing: [...missing, ...listMissing(...ownFigures), ...listOfCeiling(ceiling)],
      source,
      errors: bounds
        .filter(({ pressure }) => pressure.lo < Infinity)
        .map(({ pressure, halfWidth }) => ({
          marginPa: pressure.lo - reset.lo,
          halfWidthsPa: [accuracy.lo, gauge.lo, halfWidth.lo],
        })),
    };
  };
  const { readingErrorPa } = input;
  const ofReading = readingErrorPa === null ? [{ field: 'readingErrorPa', ref: null }] : [];
  const pairs = others.map(({ ref, lowestPressurePa, atLeastPa }) => {
    const isOfColder = lowestPressurePa !== null && atLeastPa !== undefined;
    const missing = isOfColder
      ? [{ field: 'lowestPressureAtWorkPa', ref }]
      : listMissing({ field: 'lowestPressurePa', value: lowestPressurePa, ref });
    return pair(
      {
        pressure: isOfColder ? { lo: atLeastPa ?? 0, hi: lowestPressurePa } : toSpan(lowestPressurePa),
        halfWidth: readingErrorPa === undefined ? ZERO : toSpan(readingErrorPa),
      },
      'other-station-pulls-down',
      ref,
      [...missing, ...ofReading],
      'clamp-sequence',
    );
  });
  const restart = { pressure: toSpan(restartPressurePa), halfWidth: toSpan(restartHalfWidthPa) };
  const ofRestart = [
    { field: 'restartPressurePa', value: restartPressurePa },
    { field: 'restartHalfWidthPa', value: restartHalfWidthPa },
  ];
  pairs.push(pair(restart, 'restart-below-reset', null, listMissing(...ofRestart), 'switch-window'));
  return judgePairs('shared-supply', pairs, input.marginAsked, 'missing', input.leastProbability);
}

export interface ReservoirInput {
  /** oil that every circuit of the power unit takes to clamp: strokes and compression [m3] */
  circuits: readonly {
    ref: FigureRef;
    clampVolumeM3: number | null;
    returnVolumeM3: number | null;
    /** what is to be found out for the volumes, where they are not known; left out: the volumes themselves */
    missing?: readonly MissingFigure[];
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
