/** A scale of an axis: where a value stands, and the values that carry a tick. */
export interface PlotScale {
  readonly ticks: readonly number[];
  /** 0 at the axis's start, 1 at its end */
  toShare(value: number): number;
}

const MANTISSAS = [1, 2, 5, 10];

/** Ticks on round numbers, about `count` of them; the scale ends on ticks, so that nothing lies outside of it. */
function toLinearScale(least: number, most: number, count: number): PlotScale {
  const size = Math.max(Math.abs(least), Math.abs(most));
  // What differs by less than a double or a label can tell is one value, and gets a width of its own.
  const width = size < 1e-100 ? 1 : Math.max(most - least, 1e-6 * size);
  const raw = width / count;
  const power = 10 ** Math.floor(Math.log10(raw));
  const step = power * Number(MANTISSAS.find((mantissa) => mantissa * power >= raw * (1 - 1e-9)));
  const from = Math.floor(least / step + 1e-9);
  const to = Math.max(from + 1, Math.ceil(most / step - 1e-9));
  const ticks = Array.from({ length: to - from + 1 }, (_, index) => Number(((from + index) * step).toPrecision(12)));
  return { ticks, toShare: (value) => (value / step - from) / (to - from) };
}

function toLogScale(least: number, most: number): PlotScale {
  const from = Math.floor(Math.log10(least) + 1e-9);
  const to = Math.max(from + 1, Math.ceil(Math.log10(most) - 1e-9));
  const every = Math.ceil((to - from) / 8);
  const ticks = Array.from({ length: to - from + 1 }, (_, index) => from + index)
    .filter((exponent) => (exponent - from) % every === 0)
    .map((exponent) => Number(`1e${exponent}`));
  return { ticks, toShare: (value) => (Math.log10(value) - from) / (to - from) };
}

/**
 * @param values finite; above zero on a logarithmic scale, which leaves out the others
 * @param count about how many ticks there is room for
 */
export function toScale(values: readonly number[], count: number, isLog = false): PlotScale {
  const used = isLog ? values.filter((value) => value > 0) : values;
  if (used.length === 0) return toLinearScale(0, 1, count);
  let [least, most] = [Infinity, -Infinity];
  for (const value of used) [least, most] = [Math.min(least, value), Math.max(most, value)];
  if (isLog) return toLogScale(least, most);
  // A curve that starts near zero is read from zero.
  return toLinearScale(least > 0 && least < 0.4 * most ? 0 : least, most, count);
}
