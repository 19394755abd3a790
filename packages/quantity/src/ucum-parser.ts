import { multiply, power, rational, type Rational } from './rational.js';
import { ATOMS, DIMENSIONLESS, PREFIXES, type Dimension, type UnitAtom } from './ucum-table.js';

/** A unit expression, read: SI = (value + offset) · num / den · irrational. */
export interface ParsedUnit {
  readonly code: string;
  readonly dimension: Dimension;
  /** exact numerator and denominator of the factor to the coherent SI unit, rounded once */
  readonly num: number;
  readonly den: number;
  readonly irrational: number;
  /** not null for point scales such as `Cel` and `[degF]`, which stand alone and measure temperatures, not differences */
  readonly offset: number | null;
}

/** Longer expressions name no unit that anybody uses; the bound keeps hostile input cheap. */
const LONGEST_CODE = 80;
const LARGEST_EXPONENT = 30;
const CACHE_SIZE = 1000;

interface Term {
  dimension: Dimension;
  factor: Rational;
  irrational: number;
}

const UNITY: Term = { dimension: DIMENSIONLESS, factor: rational(1n), irrational: 1 };

function combine(a: Term, b: Term, sign: 1 | -1): Term {
  const [m, kg, s, k, amp, rad] = b.dimension;
  return {
    dimension: [
      a.dimension[0] + sign * m,
      a.dimension[1] + sign * kg,
      a.dimension[2] + sign * s,
      a.dimension[3] + sign * k,
      a.dimension[4] + sign * amp,
      a.dimension[5] + sign * rad,
    ],
    factor: multiply(a.factor, sign === 1 ? b.factor : power(b.factor, -1)),
    irrational: sign === 1 ? a.irrational * b.irrational : a.irrational / b.irrational,
  };
}

function raise(atom: Term, exponent: number): Term {
  const [m, kg, s, k, amp, rad] = atom.dimension;
  return {
    dimension: [m * exponent, kg * exponent, s * exponent, k * exponent, amp * exponent, rad * exponent],
    factor: power(atom.factor, exponent),
    irrational: atom.irrational ** exponent,
  };
}

/** An atom by its code, or a metric atom after a prefix. A whole match wins, so `min` is a minute and never milli-inch. */
function findAtom(code: string): UnitAtom | null {
  const whole = ATOMS.get(code);
  if (whole) return whole;
  for (const length of [2, 1]) {
    const prefix = PREFIXES.get(code.slice(0, length));
    const atom = prefix && ATOMS.get(code.slice(length));
    // A prefixed point scale (`mCel`) has no use here and no clear zero.
    if (prefix && atom?.metric && atom.offset === null) return { ...atom, factor: multiply(prefix, atom.factor) };
  }
  return null;
}

/** Recursive descent over the UCUM grammar: [/] component { (. | /) component }. Returns null on any error. */
class Reader {
  private at = 0;
  /** Brackets within brackets name no unit that anybody writes. */
  private isInBrackets = false;

  constructor(private readonly text: string) {}

  readAll(): Term | null {
    const term = this.readTerm();
    return term && this.at === this.text.length ? term : null;
  }

  private readTerm(): Term | null {
    let total: Term = UNITY;
    let sign: 1 | -1 = 1;
    if (this.text[this.at] === '/') {
      sign = -1;
      this.at += 1;
    }
    for (;;) {
      const component = this.readComponent();
      if (!component) return null;
      total = combine(total, component, sign);
      const next = this.text[this.at];
      if (next !== '.' && next !== '/') return total;
      sign = next === '.' ? 1 : -1;
      this.at += 1;
    }
  }

  private readComponent(): Term | null {
    if (this.text[this.at] === '(') return this.readInBrackets();
    const rest = this.text.slice(this.at);
    const annotation = /^\{[!-z|~]*\}/.exec(rest);
    if (annotation) {
      this.at += annotation[0].length;
      return UNITY;
    }
    const hit = /^(10[*^]|(?:[A-Za-z%'_]|\[[^\][(){}\s]*\])+)([+-]?\d+)?(?:\{[!-z|~]*\})?/.exec(rest);
    if (!hit) return this.readFactor(rest);
    const atom = findAtom(hit[1] as string);
    const exponent = hit[2] === undefined ? 1 : Number(hit[2]);
    if (!atom || atom.offset !== null || Math.abs(exponent) > LARGEST_EXPONENT) return null;
    this.at += hit[0].length;
    return raise(atom, exponent);
  }

  private readInBrackets(): Term | null {
    if (this.isInBrackets) return null;
    this.isInBrackets = true;
    this.at += 1;
    const inner = this.readTerm();
    if (!inner || this.text[this.at] !== ')') return null;
    this.isInBrackets = false;
    this.at += 1;
    return inner;
  }

  private readFactor(rest: string): Term | null {
    const digits = /^\d{1,15}/.exec(rest)?.[0];
    if (digits === undefined || BigInt(digits) === 0n) return null;
    this.at += digits.length;
    return { ...UNITY, factor: rational(BigInt(digits)) };
  }
}

function parse(code: string): ParsedUnit | null {
  if (code.length === 0 || code.length > LONGEST_CODE) return null;
  const alone = ATOMS.get(code);
  const term = alone ?? new Reader(code).readAll();
  if (!term) return null;
  const num = Number(term.factor.num);
  const den = Number(term.factor.den);
  if (!Number.isFinite(num) || !Number.isFinite(den)) return null;
  const offset = alone?.offset ? Number(alone.offset.num) / Number(alone.offset.den) : null;
  return { code, dimension: term.dimension, num, den, irrational: term.irrational, offset };
}

const cache = new Map<string, ParsedUnit | null>();

/** Reads a case-sensitive UCUM unit code. Null when it is not one of the codes and combinations known here. */
export function findUnit(code: string): ParsedUnit | null {
  const known = cache.get(code);
  if (known !== undefined) return known;
  const unit = parse(code);
  if (cache.size >= CACHE_SIZE) cache.clear();
  cache.set(code, unit);
  return unit;
}
