/** One linear pressure axis, shared by everything drawn on it. Pressures in pascal, positions in pixels. */
export interface PressureAxis {
  lowPa: number;
  highPa: number;
  /** ticks that stand on round numbers of the unit shown [Pa] */
  ticksPa: number[];
}

const ROUND = [1, 2, 2.5, 5, 10];

/** The least round step (1, 2, 2.5, 5 × a power of ten) that is not below `least`. */
export function getRoundStep(least: number): number {
  const power = 10 ** Math.floor(Math.log10(least));
  for (const factor of ROUND) if (factor * power >= least * (1 - 1e-12)) return factor * power;
  return 10 * power;
}

/**
 * @param pressuresPa all that must be inside [Pa]; at least one
 * @param pascalPerUnit size of the unit shown [Pa], 0 < pascalPerUnit
 * @param tickCount number of steps aimed at, 1 <= tickCount
 */
export function toPressureAxis(pressuresPa: readonly number[], pascalPerUnit: number, tickCount: number): PressureAxis {
  const least = Math.min(...pressuresPa) / pascalPerUnit;
  const most = Math.max(...pressuresPa) / pascalPerUnit;
  // An axis that begins near nought begins at nought: a cut axis makes small differences look large, so it is cut only when that gains much.
  const from = least >= 0 && least < most * 0.3 ? 0 : least;
  const span = Math.max(most - from, Math.abs(most) * 0.05, 1e-3);
  const step = getRoundStep((span * 1.04) / tickCount);
  let low = Math.floor(from / step);
  let high = Math.ceil((from + span * 1.02) / step);
  if (least < low * step + step * 0.1 && low > 0) low -= 1;
  if (most > high * step - step * 0.1) high += 1;
  const ticksPa: number[] = [];
  for (let n = low; n <= high; n++) ticksPa.push(n * step * pascalPerUnit);
  return { lowPa: low * step * pascalPerUnit, highPa: high * step * pascalPerUnit, ticksPa };
}

/** Position on the axis [px]: `lowPx` at the axis' low end, `highPx` at its high end. */
export function toPosition(axis: PressureAxis, pressurePa: number, lowPx: number, highPx: number): number {
  const share = (pressurePa - axis.lowPa) / (axis.highPa - axis.lowPa);
  return lowPx + Math.min(1, Math.max(0, share)) * (highPx - lowPx);
}
