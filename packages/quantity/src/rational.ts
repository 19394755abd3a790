/** An exact fraction above zero, in lowest terms. Unit factors stay exact until the one final division. */
export interface Rational {
  readonly num: bigint;
  readonly den: bigint;
}

function gcd(a: bigint, b: bigint): bigint {
  let x = a;
  let y = b;
  while (y !== 0n) [x, y] = [y, x % y];
  return x;
}

export function rational(num: bigint, den = 1n): Rational {
  const divisor = gcd(num, den);
  return divisor === 1n ? { num, den } : { num: num / divisor, den: den / divisor };
}

/** Reads a plain decimal such as `0.45359237` or `1e-3` without rounding. */
export function decimal(text: string): Rational {
  const hit = /^(\d+)(?:\.(\d+))?(?:e(-?\d+))?$/.exec(text);
  if (!hit) throw new RangeError(`not a plain decimal: ${text}`);
  const fraction = hit[2] ?? '';
  const shift = Number(hit[3] ?? 0) - fraction.length;
  const digits = BigInt(`${hit[1]}${fraction}`);
  return shift >= 0 ? rational(digits * 10n ** BigInt(shift)) : rational(digits, 10n ** BigInt(-shift));
}

export function multiply(a: Rational, b: Rational): Rational {
  return rational(a.num * b.num, a.den * b.den);
}

export function power(a: Rational, exponent: number): Rational {
  const size = BigInt(Math.abs(exponent));
  return exponent >= 0 ? rational(a.num ** size, a.den ** size) : rational(a.den ** size, a.num ** size);
}
