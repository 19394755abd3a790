import { requireFinite, requireThat } from '../errors.js';
import { normalUpperQuantile } from '../numeric/normal.js';

export interface DriftPoint {
  /** time, in days or a plain number */
  time: number;
  /** value, in the unit of the first */
  value: number;
}
export interface DriftCrossingInput {
  series: readonly DriftPoint[];
  /** value asked about, in the unit of the series */
  threshold: number;
  /** c: confidence of the interval [1], 0 <= c < 1 */
  confidence: number;
}
export interface DriftCrossingResult {
  slope: number;
  slopeLower: number;
  slopeUpper: number;
  /** the interval of the slope leaves out zero */
  drifting: boolean;
  intercept: number;
  /** null when not drifting */
  crossingTime: number | null;
  crossingEarliest: number | null;
  crossingLatest: number | null;
  status: 'not drifting' | 'ahead' | 'past';
}

function median(sorted: ArrayLike<number>): number {
  const middle = Math.floor(sorted.length / 2);
  const upper = Number(sorted[middle]);
  return sorted.length % 2 === 1 ? upper : (Number(sorted[middle - 1]) + upper) / 2;
}

function roundHalfToEven(x: number): number {
  return x - Math.floor(x) === 0.5 ? 2 * Math.round(x / 2) : Math.round(x);
}

/** Σ t(t − 1)(2t + 5) over groups of equal values. */
function toTieTerm(values: readonly number[]): number {
  const sizes = new Map<number, number>();
  for (const value of values) sizes.set(value, (sizes.get(value) ?? 0) + 1);
  return [...sizes.values()].reduce((sum, t) => sum + t * (t - 1) * (2 * t + 5), 0);
}

function toSlopes(series: readonly DriftPoint[]): Float64Array {
  const slopes: number[] = [];
  series.forEach((a, index) => {
    for (const b of series.slice(index + 1))
      if (a.time !== b.time) slopes.push((b.value - a.value) / (b.time - a.time));
  });
  return Float64Array.from(slopes).sort();
}

/**
 * Slope of a series that single outliers do not move, its interval, and when it crosses a threshold.
 *
 * @method Theil–Sen: median of all pairwise slopes; interval by Kendall's τ: C = z·√Var S, ranks round((N − C)/2) and round((N + C)/2) + 1 of the N slopes in order; intercept = median(value − slope·time); crossing = (threshold − intercept)/slope; the same with each end of the interval, its own intercept.
 * @residual slope - 4
 * @residual intercept - 6
 * @residual crossingTime - (threshold - intercept) / slope
 * @assumes Errors independent and alike; a straight drift.
 * @range Three values at least; the interval is wide below about eight.
 * @throws CalcInputError out-of-range: all at one time. not-finite: NaN or infinite input.
 * @example published
 * in  {"series":[{"time":1,"value":9},{"time":2,"value":15},{"time":3,"value":19},{"time":4,"value":20},{"time":10,"value":45},{"time":12,"value":55},{"time":18,"value":78}],"threshold":100,"confidence":0.93}
 * out slope=4 intercept=6 crossingTime=23.5
 * @source Sen 1968 (J. Am. Stat. Assoc. 63:1379), with his example: slope 4, 93 % interval 3.71 to 4.38.
 */
export function driftCrossing(input: DriftCrossingInput): DriftCrossingResult {
  requireFinite(input);
  const { series, threshold, confidence } = input;
  const slopes = toSlopes(series);
  const count = slopes.length;
  requireThat(count > 0, 'out-of-range', ['series'], 'values at two times at least');
  const n = series.length;
  const times = series.map(({ time }) => time);
  const ties = toTieTerm(times) + toTieTerm(series.map(({ value }) => value));
  const variance = Math.max(0, (n * (n - 1) * (2 * n + 5) - ties) / 18);
  const width = normalUpperQuantile((1 - confidence) / 2) * Math.sqrt(variance);
  const atRank = (rank: number): number => Number(slopes[Math.min(count, Math.max(1, rank)) - 1]);
  const slope = median(slopes);
  const slopeLower = atRank(roundHalfToEven((count - width) / 2));
  const slopeUpper = atRank(roundHalfToEven((count + width) / 2) + 1);
  const toIntercept = (rate: number): number =>
    median(Float64Array.from(series, ({ time, value }) => value - rate * time).sort());
  const intercept = toIntercept(slope);
  const found = { slope, slopeLower, slopeUpper, intercept };
  if (!(slopeLower > 0 || slopeUpper < 0)) {
    const never = { crossingTime: null, crossingEarliest: null, crossingLatest: null };
    return { ...found, drifting: false, ...never, status: 'not drifting' };
  }
  const crossing = (rate: number): number => (threshold - toIntercept(rate)) / rate;
  const crossingTime = crossing(slope);
  const crossings = [crossing(slopeLower), crossing(slopeUpper)];
  return {
    ...found,
    drifting: true,
    crossingTime,
    crossingEarliest: Math.min(...crossings),
    crossingLatest: Math.max(...crossings),
    status: crossingTime > Math.max(...times) ? 'ahead' : 'past',
  };
}
