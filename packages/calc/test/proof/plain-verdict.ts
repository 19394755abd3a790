/**
 * How a check of two figures stands, worked out by hand a second time. Nothing here comes from the product's own calculations: a mistake
 * made there is not made again.
 */
export type Status = 'holds' | 'marginal' | 'fails' | 'unproven' | 'not-applicable';

export interface Verdict {
  status: Status;
  /** with the stated tolerances, of the part that decides; null: there is nothing to compare, or not all of it is known */
  demand: number | null;
  capacity: number | null;
  margin: number | null;
  /** which part of the check decided, in plain words */
  part: string;
  /** every part, when there are several */
  parts?: readonly Verdict[];
}

/** Least probability at which a check still holds (the default of an organisation). */
const LEAST_PROBABILITY = 0.95;

const NOT_COMPARED = { demand: null, capacity: null, margin: null };
export const stands = (status: Status, part: string): Verdict => ({ status, ...NOT_COMPARED, part });

/** A figure that nobody has said adds nothing to a demand that is known to be too great already; `missing` then says that it is a bound. */
export interface Comparison {
  part: string;
  demand: number | null;
  capacity: number | null;
  /** half widths of the independent errors that the stated view has already taken off */
  tolerances: readonly (number | null)[];
  /** error of the gauge that it was set by; 0: no gauge is in it */
  gauge: number | null;
  /** the side that it is on */
  gaugeOn?: 'demand' | 'capacity';
  /** the capacity with every error, where the gauge bears on a part of it alone */
  least?: number | null;
  /** share of the capacity asked for as a margin, on top of the gauge's error */
  asked: number;
  /** half widths of further independent errors, which the stated view leaves in */
  spreads?: readonly (number | null)[];
  /** something else that belongs to it is not known */
  isIncomplete?: boolean;
  /** beside it, what else bounds the capacity: each with the errors of its own; the least likely decides */
  others?: readonly { capacity: number; errors: readonly number[] }[];
}

/**
 * P(sum of independent uniform errors within +- h <= x): volume of a cut cube by inclusion and exclusion (Irwin 1927, Hall 1927).
 * 1/(n! prod 2h) * sum over all signs s of prod(s) * max(0, x + sum s h)^n
 */
export function probabilityWithin(x: number, halfWidths: readonly number[]): number {
  const errors = halfWidths.filter((h) => h > 0);
  const n = errors.length;
  const reach = errors.reduce((sum, h) => sum + h, 0);
  if (x >= reach) return 1;
  if (x < -reach) return 0;
  let total = 0;
  for (let signs = 0; signs < 2 ** n; signs++) {
    let product = 1;
    let corner = x;
    for (let i = 0; i < n; i++) {
      const sign = (signs >> i) & 1 ? 1 : -1;
      product *= sign;
      corner += sign * (errors[i] ?? 0);
    }
    total += product * Math.max(0, corner) ** n;
  }
  let divisor = 1;
  for (const [i, h] of errors.entries()) divisor *= (i + 1) * 2 * h;
  return total / divisor;
}

export function compare({
  part,
  demand,
  capacity,
  tolerances,
  gauge,
  gaugeOn,
  least: leastOfAll = null,
  asked,
  spreads = [],
  isIncomplete,
  others = [],
}: Comparison): Verdict {
  if (demand === null || capacity === null) return stands('unproven', part);
  const margin = capacity - demand;
  const numbers = { demand, capacity, margin, part };
  if (margin < 0) return { status: 'fails', ...numbers };
  if (isIncomplete === true || gauge === null || [...tolerances, ...spreads].includes(null))
    return stands('unproven', part);
  // The nominal margin is the stated one with the tolerances put back; the errors may use all of it up.
  const errors = tolerances.filter((h) => h !== null);
  const nominal = margin + errors.reduce((sum, h) => sum + h, 0);
  const likely = others.map((one) => probabilityWithin(one.capacity - demand, [...one.errors, ...spreads.map(known)]));
  const alone = others.length > 0 ? [] : [probabilityWithin(nominal, [...errors, gauge, ...spreads.map(known)])];
  // However they hang together: what is unlikely of each adds up to no more.
  const unlikely = [...likely, ...alone].reduce((sum, one) => sum + (1 - one), 0);
  if (1 - unlikely < LEAST_PROBABILITY) return { status: 'fails', ...numbers };
  const [most, least] = gaugeOn === 'capacity' ? [demand, leastOfAll ?? capacity - gauge] : [demand + gauge, capacity];
  if (most > least || most > (1 - asked) * least) return { status: 'marginal', ...numbers };
  return { status: 'holds', ...numbers };
}

const WORST_FIRST: readonly Status[] = ['fails', 'unproven', 'marginal', 'holds', 'not-applicable'];
const ratio = ({ demand, capacity }: Verdict) => (demand === null || capacity === null ? -1 : demand / capacity);

/** A check of several parts stands as its worst part; among equals the one nearest to its capacity tells its numbers. */
export function worst(parts: readonly Verdict[]): Verdict {
  const order = [...parts].sort(
    (a, b) => WORST_FIRST.indexOf(a.status) - WORST_FIRST.indexOf(b.status) || ratio(b) - ratio(a),
  );
  const [first] = order;
  return first === undefined ? stands('not-applicable', 'no part') : { ...first, parts: order };
}

/** Sum, or null when one of them is not known. */
export const add = (...terms: readonly (number | null)[]): number | null =>
  terms.reduce<number | null>((sum, term) => (sum === null || term === null ? null : sum + term), 0);
export const times = (a: number | null, b: number | null): number | null => (a === null || b === null ? null : a * b);
/** A figure that is not known counts for nothing: only for bounds that say so. */
export const known = (value: number | null | undefined): number => value ?? 0;
