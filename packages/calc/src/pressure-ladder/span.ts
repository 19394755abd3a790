/** What is known of a figure: it lies between `lo` and `hi`; both the same when it is known. */
export interface Span {
  readonly lo: number;
  readonly hi: number;
}

export const ZERO: Span = { lo: 0, hi: 0 };
/** nothing known but that it is not negative */
export const UNKNOWN: Span = { lo: 0, hi: Infinity };

/** nothing bounds it */
export const UNBOUNDED: Span = { lo: Infinity, hi: Infinity };

/** No figure of a circuit is larger than this in SI; what is cannot be computed with and says nothing. */
const LARGEST_FIGURE = 1e15;

/** Not a number, infinity and what no circuit has count as not known. */
export function known(figure: number | null | undefined): number | null {
  return typeof figure === 'number' && Math.abs(figure) <= LARGEST_FIGURE ? figure : null;
}

export function toSpan(figure: number | null | undefined): Span {
  const value = known(figure);
  return value === null ? UNKNOWN : { lo: value, hi: value };
}

export function isExact(span: Span): boolean {
  return span.lo === span.hi;
}

export function add(a: Span, b: Span): Span {
  return { lo: a.lo + b.lo, hi: a.hi + b.hi };
}

/** `b` is a half width or a loss, not negative when unknown. */
export function subtract(a: Span, b: Span): Span {
  return { lo: a.lo - b.hi, hi: a.hi - b.lo };
}

function times(a: number, b: number): number {
  // Nothing of something unbounded is nothing.
  return a === 0 || b === 0 ? 0 : a * b;
}

export function multiply(a: Span, b: Span): Span {
  const corners = [times(a.lo, b.lo), times(a.lo, b.hi), times(a.hi, b.lo), times(a.hi, b.hi)];
  return { lo: Math.min(...corners), hi: Math.max(...corners) };
}

export function leastOf(a: Span, b: Span): Span {
  return { lo: Math.min(a.lo, b.lo), hi: Math.min(a.hi, b.hi) };
}

export function mostOf(a: Span, b: Span): Span {
  return { lo: Math.max(a.lo, b.lo), hi: Math.max(a.hi, b.hi) };
}

/** a > b by more than rounding; infinities compare as they are. */
export function isAbove(a: number, b: number): boolean {
  const size = Math.abs(a) + Math.abs(b);
  return size === Infinity ? a > b : a - b > 1e-12 * size;
}
