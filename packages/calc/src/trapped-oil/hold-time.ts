import { isAtMost, requireFinite, requireThat } from '../errors.js';

export interface HoldTimeInput {
  /** V: volume under pressure [m3], 0 <= V */
  volumeM3: number;
  /** K: bulk modulus of oil and walls [Pa], 0 < K */
  bulkModulusPa: number;
  /** q: leak at the starting pressure [m3/s], 0 < q */
  leakRateM3PerS: number;
  /** p_1: pressure at the start [Pa], 0 < p_1 */
  pressureStartPa: number;
  /** p_2: pressure that must be kept [Pa], 0 <= p_2 <= p_1 */
  pressureEndPa: number;
  /** how the leak falls with pressure: in proportion, not at all, with its square root */
  law: 'laminar' | 'constant' | 'orifice';
}
export interface HoldTimeResult {
  /** t: time until the pressure is reached [s] */
  timeS: number;
}
/**
 * How long a shut-in volume stays above a pressure, by the law of its leak.
 *
 * @formula
 * tau = V * p_1 / (K * q)
 * t = equalText(law, "laminar") ? tau * log(p_1 / p_2) : (equalText(law, "constant") ? tau * (1 - p_2 / p_1) : 2 * tau * (1 - sqrt(p_2 / p_1)))
 * @assumes Constant temperature and modulus.
 * @range A worn valve seat leaks laminar, a scratch more like an orifice: take the shorter time.
 * @throws CalcInputError inconsistent: the end pressure is above the start. out-of-range: a laminar leak never reaches zero. not-finite: NaN or infinite input.
 * @example laminar
 * in  {"volumeM3":0.001,"bulkModulusPa":1.2e9,"leakRateM3PerS":1e-9,"pressureStartPa":17.5e6,"pressureEndPa":14e6,"law":"laminar"}
 * out timeS=3254.1767899988918
 * @example orifice
 * in  {"volumeM3":0.001,"bulkModulusPa":1.2e9,"leakRateM3PerS":1e-9,"pressureStartPa":16e6,"pressureEndPa":9e6,"law":"orifice"}
 * out timeS=6666.666666666667
 * @source Volume balance with the three laws of leakage, integrated.
 */
export function holdTime(input: HoldTimeInput): HoldTimeResult {
  requireFinite(input);
  const { volumeM3, bulkModulusPa, leakRateM3PerS, pressureStartPa, pressureEndPa, law } = input;
  requireThat(
    isAtMost(pressureEndPa, pressureStartPa),
    'inconsistent',
    ['pressureEndPa', 'pressureStartPa'],
    'an end not above the start',
  );
  requireThat(
    law !== 'laminar' || pressureEndPa > 0,
    'out-of-range',
    ['pressureEndPa'],
    'above zero with a laminar leak',
  );
  const settling = (volumeM3 * pressureStartPa) / (bulkModulusPa * leakRateM3PerS);
  const share = Math.min(1, pressureEndPa / pressureStartPa);
  const laws = {
    laminar: (): number => -Math.log(share),
    constant: (): number => 1 - share,
    orifice: (): number => 2 * (1 - Math.sqrt(share)),
  };
  return { timeS: settling * laws[law]() };
}
