import type { CalcErrorCode } from '../errors.js';

export type ProblemCode =
  | 'unknown-id'
  | 'not-an-object'
  | 'not-json'
  | 'missing'
  | 'unknown-name'
  | 'unknown-unit'
  | 'wrong-kind'
  | 'temperature-point'
  | 'not-a-number'
  | 'negative'
  | 'zero'
  | 'above-one'
  | 'not-whole'
  | 'absurd'
  | 'unknown-word'
  | 'wrong-type'
  | 'wrong-length'
  | 'alternatives'
  | CalcErrorCode;

/** Why inputs were refused: which field (a path such as `cylinders[0].rod`), what it got, what it needs. */
export interface Problem {
  field: string;
  /** all the fields concerned, when more than one: they contradict each other or are alternatives */
  fields?: readonly string[];
  got: unknown;
  needs: string;
  code: ProblemCode;
}

/** What was sent, cut short: a problem never echoes a large body. */
export function toGot(raw: unknown): unknown {
  if (raw === undefined) return null;
  if (typeof raw === 'number' && !Number.isFinite(raw)) return String(raw);
  if (typeof raw === 'string') return raw.length > 200 ? `${raw.slice(0, 200)}…` : raw;
  if (typeof raw === 'bigint') return String(raw);
  if (typeof raw !== 'object' || raw === null) return raw;
  const text = JSON.stringify(raw);
  return text.length > 400 ? `${text.slice(0, 400)}…` : raw;
}

/** Whoever has this many slips does not read on; a list of ten thousand would have ten thousand. */
const MOST_PROBLEMS = 50;

/** Collects problems while inputs are read, and the unit that a group of like figures is kept in. */
export class Reading {
  readonly problems: Problem[] = [];
  /** all that was refused, told or not */
  refusals = 0;
  /** per group: the unit of its first figure (null: plain numbers) and the path it was found at */
  readonly groups = new Map<string, { unit: string | null; path: string }>();

  refuse(field: string, raw: unknown, code: ProblemCode, needs: string): undefined {
    this.refusals += 1;
    if (this.problems.length < MOST_PROBLEMS) this.problems.push({ field, got: toGot(raw), needs, code });
    return undefined;
  }
}
