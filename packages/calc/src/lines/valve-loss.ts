import { requireFinite } from '../errors.js';

export interface ValveLossInput {
  /** K_v: flow of water of 1000 kg/m³ that loses 1 bar [m3/s], 0 < K_v */
  kvM3PerS: number;
  /** Q: flow [m3/s], 0 <= Q */
  flowM3PerS: number;
  /** rho: density [kg/m3], 0 <= rho */
  densityKgPerM3: number;
}
export interface ValveLossResult {
  /** dp: loss of pressure [Pa] */
  pressureLossPa: number;
  /** C_v: US gallons of water a minute that lose 1 psi [1] */
  cv: number;
}
/**
 * Loss of pressure of a valve from its flow coefficient.
 *
 * @formula
 * dp = 1e5 * (Q / K_v)^2 * rho / 1000
 * C_v = 1.15610 * K_v * 3600
 * @assumes Turbulent flow through the valve; reference units bar, 1000 kg/m³ and m³/h.
 * @range Thick oil at low flow loses more than this.
 * @throws CalcInputError not-finite: NaN or infinite input.
 * @example plain
 * in  kvM3PerS=2e-4 flowM3PerS=1e-4 densityKgPerM3=870
 * out pressureLossPa=21750 cv=0.832392
 * @source Definition of Kv; 1.1561 from published conversion.
 */
export function valveLoss(input: ValveLossInput): ValveLossResult {
  requireFinite(input);
  const { kvM3PerS, flowM3PerS, densityKgPerM3 } = input;
  return { pressureLossPa: (1e5 * (flowM3PerS / kvM3PerS) ** 2 * densityKgPerM3) / 1000, cv: 1.1561 * kvM3PerS * 3600 };
}
