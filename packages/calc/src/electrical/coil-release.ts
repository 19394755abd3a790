import { requireFinite, requireThat } from '../errors.js';

export interface CoilReleaseInput {
  /** L: inductance of the coil [H], 0 <= L */
  inductanceH: number;
  /** R: resistance of the coil [Ohm], 0 < R */
  resistanceOhm: number;
  /** V: voltage of the supply [V], 0 <= V */
  supplyVoltageV: number;
  /** V_c: voltage across the suppressor while the current falls [V], 0 <= V_c */
  clampVoltageV: number;
  /** q: share of the holding current at which the valve lets go [1], 0 <= q <= 1 */
  fraction: number;
}
export interface CoilReleaseResult {
  /** E: energy stored in the coil [J] */
  energyJ: number;
  /** t: time until the current has fallen to the share [s] */
  releaseTimeS: number;
  /** V_p: voltage over the switch that opens [V] */
  peakVoltageV: number;
}
/**
 * How long a solenoid holds on after it is switched off, and the voltage that its suppressor leaves on the switch.
 *
 * @formula
 * E = L * (V / R)^2 / 2
 * t = L / R * log((V + V_c) / (q * V + V_c))
 * V_p = V + V_c
 * @assumes Constant inductance; suppressor of constant voltage across the coil; no eddy currents.
 * @range A plain diode (0.7 V) is slow, a Zener or transient suppressor fast; the peak voltage must stay below the rating of the output.
 * @throws CalcInputError out-of-range: no end of the current's fall (no clamping voltage and share zero). not-finite: NaN or infinite input.
 * @example diode
 * in  inductanceH=0.5 resistanceOhm=20 supplyVoltageV=24 clampVoltageV=0.7 fraction=0.1
 * out energyJ=0.36 releaseTimeS=0.05188502828391785 peakVoltageV=24.7
 * @source Solution of L·di/dt + R·i + V_c = 0.
 */
export function coilRelease(input: CoilReleaseInput): CoilReleaseResult {
  requireFinite(input);
  const { inductanceH, resistanceOhm, supplyVoltageV, clampVoltageV, fraction } = input;
  const end = fraction * supplyVoltageV + clampVoltageV;
  requireThat(end > 0, 'out-of-range', ['clampVoltageV', 'fraction'], 'a clamping voltage or a share above zero');
  return {
    energyJ: (inductanceH * (supplyVoltageV / resistanceOhm) ** 2) / 2,
    releaseTimeS: (inductanceH / resistanceOhm) * Math.log((supplyVoltageV + clampVoltageV) / end),
    peakVoltageV: supplyVoltageV + clampVoltageV,
  };
}
