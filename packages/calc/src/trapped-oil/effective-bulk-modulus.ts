import { ATMOSPHERE_PA } from '../constants.js';
import { requireFinite } from '../errors.js';

export interface EffectiveBulkModulusInput {
  /** K_0: bulk modulus of the oil without air [Pa], 0 < K_0 */
  oilModulusPa: number;
  /** a: air volume over total volume at atmosphere [1], 0 <= a <= 1 */
  airFraction: number;
  /** p: gauge pressure [Pa], 0 <= p */
  pressurePa: number;
  /** n: polytropic exponent of the air [1], 0 < n */
  polytropic: number;
  /** K_h: modulus of the hose [Pa], 0 < K_h; left out: no hose */
  hoseModulusPa?: number | undefined;
}
export interface EffectiveBulkModulusResult {
  /** K: bulk modulus of the mixture, with the hose [Pa] */
  bulkModulusPa: number;
}

/** The mixture without a hose; the inner loop of fillings calls it. */
export function toMixtureModulus(
  oilModulusPa: number,
  airFraction: number,
  pressurePa: number,
  polytropic: number,
): number {
  if (airFraction === 0) return oilModulusPa;
  const oil = (1 - airFraction) * Math.exp(-pressurePa / oilModulusPa);
  const ratio = ATMOSPHERE_PA / (pressurePa + ATMOSPHERE_PA);
  const air = airFraction * ratio ** (1 / polytropic);
  return (oil + air) / (oil / oilModulusPa + (air * ratio) / (polytropic * ATMOSPHERE_PA));
}

/** Volume of the mixture at a pressure over its volume at atmosphere [1], slowly compressed: the air keeps its temperature. */
export function toRelativeVolume(oilModulusPa: number, airFraction: number, pressurePa: number): number {
  const air = (airFraction * ATMOSPHERE_PA) / (pressurePa + ATMOSPHERE_PA);
  return (1 - airFraction) * Math.exp(-pressurePa / oilModulusPa) + air;
}

/**
 * Bulk modulus of oil with entrained air at a pressure, and of the hose around it.
 *
 * @formula
 * P = p + 101325
 * V_o = (1 - a) * exp(-p / K_0)
 * V_a = a * (101325 / P)^(1 / n)
 * K_m = (V_o + V_a) / (V_o / K_0 + V_a / (n * P))
 * 1 / K = 1 / K_m + 1 / K_h
 * @assumes Air stays free (does not dissolve); the fraction is the one at atmosphere: at 50 bar the same number at pressure would mean fifty times the air.
 * @range Polytropic exponent 1 (slow) to 1.4 (fast).
 * @throws CalcInputError not-finite: NaN or infinite input.
 * @example with-hose
 * in  oilModulusPa=1.5e9 airFraction=0.01 pressurePa=5e6 polytropic=1.4 hoseModulusPa=2e9
 * out bulkModulusPa=798363536.3622029
 * @source Mixture of a liquid of constant modulus and a polytropic gas (derived; agrees with the open text of Ruhr-Universität Bochum).
 */
export function effectiveBulkModulus(input: EffectiveBulkModulusInput): EffectiveBulkModulusResult {
  requireFinite(input);
  const { oilModulusPa, airFraction, pressurePa, polytropic, hoseModulusPa } = input;
  const mixture = toMixtureModulus(oilModulusPa, airFraction, pressurePa, polytropic);
  return { bulkModulusPa: hoseModulusPa === undefined ? mixture : 1 / (1 / mixture + 1 / hoseModulusPa) };
}
