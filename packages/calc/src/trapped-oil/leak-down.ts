import { isAtMost, requireFinite, requireThat, type CalcNote } from '../errors.js';

export interface LeakDownInput {
  /** V: volume under pressure [m3], 0 <= V */
  volumeM3: number;
  /** K: bulk modulus of oil and walls [Pa], 0 < K */
  bulkModulusPa: number;
  /** p_1: pressure at the start [Pa], 0 <= p_1 */
  pressureStartPa: number;
  /** p_2: pressure at the end [Pa], 0 <= p_2 <= p_1 */
  pressureEndPa: number;
  /** t: duration of the test [s], 0 < t */
  durationS: number;
  /** p_f: pressure that must be kept [Pa], 0 <= p_f */
  floorPressurePa?: number | undefined;
}
export interface LeakDownResult {
  /** q: leak [m3/s] */
  leakRateM3PerS: number;
  /** r: fall of pressure [Pa/s] */
  decayRatePaPerS: number;
  /** t_f: time from the end of the test to the floor, at the same rate [s]; null: never */
  timeToFloorS?: number | null;
  notes: CalcNote[];
}
/**
 * Leak of a shut-in volume from the fall of its pressure, and the time until a pressure is reached.
 *
 * @formula
 * q = V * (p_1 - p_2) / (K * t)
 * r = (p_1 - p_2) / t
 * t_f = max(0, (p_2 - p_f) / r)
 * @assumes Constant temperature and rate.
 * @range Log the temperature too: 1 K of cooling takes about 10 bar off a rigid volume and looks like a leak.
 * @throws CalcInputError inconsistent: the end pressure is above the start. not-finite: NaN or infinite input.
 * @example ten-minutes
 * in  volumeM3=0.001 bulkModulusPa=1.2e9 pressureStartPa=17.5e6 pressureEndPa=17.2e6 durationS=600 floorPressurePa=15e6
 * out leakRateM3PerS=4.166666666666667e-10 timeToFloorS=4400
 * @source Definition of the bulk modulus.
 */
export function leakDown(input: LeakDownInput): LeakDownResult {
  requireFinite(input);
  const { volumeM3, bulkModulusPa, pressureStartPa, pressureEndPa, durationS, floorPressurePa } = input;
  requireThat(
    isAtMost(pressureEndPa, pressureStartPa),
    'inconsistent',
    ['pressureEndPa', 'pressureStartPa'],
    'an end not above the start',
  );
  const fall = Math.max(0, pressureStartPa - pressureEndPa);
  const result = {
    leakRateM3PerS: (volumeM3 * fall) / (bulkModulusPa * durationS),
    decayRatePaPerS: fall / durationS,
    notes: [{ code: 'log-temperature' }],
  };
  if (floorPressurePa === undefined) return result;
  const above = pressureEndPa - floorPressurePa;
  if (above <= 0) return { ...result, timeToFloorS: 0 };
  return { ...result, timeToFloorS: fall > 0 ? above / result.decayRatePaPerS : null };
}
