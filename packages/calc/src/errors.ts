/**
 * Why a calculation cannot be done with what it was given.
 * `not-finite`: NaN or infinite; `out-of-range`: a value the definition has no answer for; `inconsistent`: fields that
 * contradict each other; `too-many`: more work than the calculation takes on; `no-result`: the method found no answer.
 */
export type CalcErrorCode = 'not-finite' | 'out-of-range' | 'inconsistent' | 'too-many' | 'no-result';

/** Thrown by calculation functions; `fields` are paths of SI fields such as `rodM` or `cylinders[0].rodM`. */
export class CalcInputError extends Error {
  constructor(
    readonly code: CalcErrorCode,
    readonly fields: readonly string[],
    readonly needs: string,
  ) {
    super(`${code}: ${fields.join(', ')}: needs ${needs}`);
    this.name = 'CalcInputError';
  }
}

/** @throws CalcInputError when the condition does not hold. */
export function requireThat(
  condition: boolean,
  code: CalcErrorCode,
  fields: readonly string[],
  needs: string,
): asserts condition {
  if (!condition) throw new CalcInputError(code, fields, needs);
}

/** @throws CalcInputError not-finite for a NaN or infinite number anywhere in the input. */
export function requireFinite(input: unknown): void {
  const path = findNotFinite(input);
  if (path !== null) throw new CalcInputError('not-finite', [path], 'a finite number');
}

/** Path of the first number that is not finite; null: each is. Paths are put together only where there is one. */
function findNotFinite(input: unknown): string | null {
  if (typeof input === 'number') return Number.isFinite(input) ? null : '';
  if (typeof input !== 'object' || input === null) return null;
  const isList = Array.isArray(input);
  for (const key in input) {
    const rest = findNotFinite((input as Record<string, unknown>)[key]);
    if (rest === null) continue;
    const name = isList ? `[${key}]` : key;
    return rest === '' || rest.startsWith('[') ? `${name}${rest}` : `${name}.${rest}`;
  }
  return null;
}

/** A remark on a result: outside a source's range, or a caution. Words belong to the translations. */
export interface CalcNote {
  code: string;
  parameters?: Readonly<Record<string, number | string>>;
}

/**
 * Equality up to rounding, for decisions at a limit: 1 in and 25.4 mm are the same, a ratio of 1 made from three
 * pressures in psi is not above 1.
 */
const ROUNDING = 1e-12;

export function isAtMost(value: number, limit: number): boolean {
  return value <= limit + ROUNDING * Math.max(Math.abs(value), Math.abs(limit));
}

export function isBelow(value: number, limit: number): boolean {
  return !isAtMost(limit, value);
}
