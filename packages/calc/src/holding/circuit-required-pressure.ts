import { requireFinite, requireThat } from '../errors.js';

export interface CircuitClamp {
  name?: string | undefined;
  /** F: force that the clamp must give at scale 1, as given to `holding-force` [N], 0 <= F */
  forceN: number;
  /** F_r: force of the clamp at its rated pressure [N], 0 < F_r */
  ratedForceN: number;
  /** p_r: pressure at which it gives its rated force [Pa], 0 <= p_r */
  ratedPressurePa: number;
}
export interface CircuitRequiredPressureInput {
  /** clamps of the circuit, at least one */
  clamps: readonly CircuitClamp[];
  /** s: factor on the clamp forces [1], 0 <= s */
  scale: number;
}
export interface CircuitRequiredPressureResult {
  /** p: least pressure of the circuit [Pa] */
  pressurePa: number;
  /** index of the clamp that asks for the most, from 0 */
  governingClamp: number;
}
/**
 * Least pressure at which every clamp of a circuit gives the force asked of it.
 *
 * @method p = s · max(F · p_r / F_r) over the clamps; the first of equals governs.
 * @residual pressurePa - scale * 5000 * 20e6 / 10000
 * @assumes Clamp force proportional to pressure; one pressure for all clamps of the circuit.
 * @range Within the clamps' own charts of force against pressure; a spring or a sequence valve adds its own least pressure.
 * @throws CalcInputError out-of-range: no clamps. not-finite: NaN or infinite input.
 * @example two-clamps
 * in  {"clamps":[{"forceN":2000,"ratedForceN":10000,"ratedPressurePa":20e6},{"forceN":5000,"ratedForceN":10000,"ratedPressurePa":20e6}],"scale":1.1}
 * out pressurePa=11e6 governingClamp=1
 * @source Force = pressure times area.
 */
export function circuitRequiredPressure(input: CircuitRequiredPressureInput): CircuitRequiredPressureResult {
  requireFinite(input);
  const { clamps, scale } = input;
  requireThat(clamps.length > 0, 'out-of-range', ['clamps'], 'at least one clamp');
  const pressures = clamps.map(({ forceN, ratedForceN, ratedPressurePa }) => (forceN / ratedForceN) * ratedPressurePa);
  const highest = pressures.reduce((most, pressure) => Math.max(most, pressure));
  return { pressurePa: scale * highest, governingClamp: pressures.indexOf(highest) };
}
