import { isAtMost, requireFinite, requireThat } from '../errors.js';

export interface ControlLoad {
  name: string;
  /** P: power of one [W], 0 <= P */
  wattsW: number;
  /** how many there are */
  count: number;
  /** how many of them are on together; left out: all */
  simultaneous?: number | undefined;
  /** k: power when switched on over steady power [1], 0 <= k */
  inrushFactor: number;
}
export interface ControlSupplyInput {
  loads: readonly ControlLoad[];
  /** P_s: rated power of the supply [W], 0 < P_s */
  supplyRatingW: number;
  /** r: reserve asked for [1], 0 <= r <= 1 */
  reserve: number;
  /** V: voltage of the supply [V], 0 < V */
  voltageV: number;
  /** P_p: power that the supply gives for a moment [W], 0 <= P_p */
  peakRatingW?: number | undefined;
}
export interface ControlSupplyResult {
  /** P_l: power of all that is on together [W] */
  steadyLoadW: number;
  /** P_k: power when all that is switched on together [W] */
  peakLoadW: number;
  /** P_r: rating asked for [W] */
  requiredRatingW: number;
  /** I: current at that rating [A] */
  currentA: number;
  /** u: steady load over rating [1] */
  utilisation: number;
  adequate: boolean;
}
/**
 * Whether a control supply carries its loads, with reserve and inrush.
 *
 * @method steady = Σ watts·simultaneous; peak = Σ watts·simultaneous·inrush; required = steady·(1 + reserve); adequate = required ≤ rating and peak ≤ peak rating, where one is given.
 * @residual requiredRatingW - steadyLoadW * (1 + reserve)
 * @residual currentA - requiredRatingW / voltageV
 * @residual utilisation - steadyLoadW / supplyRatingW
 * @assumes Every inrush at the same moment.
 * @range Reserve 0.2 to 0.3 (common practice, no source). One fused branch for each function.
 * @throws CalcInputError inconsistent: more on together than there are. not-finite: NaN or infinite input.
 * @example two-loads
 * in  {"loads":[{"name":"valve","wattsW":20,"count":4,"simultaneous":2,"inrushFactor":2},{"name":"lamp","wattsW":3,"count":2,"inrushFactor":1}],"supplyRatingW":100,"reserve":0.2,"voltageV":24}
 * out steadyLoadW=46 peakLoadW=86 requiredRatingW=55.199999999999996 utilisation=0.46
 * @source Sum of powers; reserve from common practice.
 */
export function controlSupply(input: ControlSupplyInput): ControlSupplyResult {
  requireFinite(input);
  const { loads, supplyRatingW, reserve, voltageV, peakRatingW } = input;
  let steadyLoadW = 0;
  let peakLoadW = 0;
  loads.forEach(({ wattsW, count, simultaneous = count, inrushFactor }, index) => {
    const fields = [`loads[${index}].simultaneous`, `loads[${index}].count`];
    requireThat(simultaneous <= count, 'inconsistent', fields, 'not more on together than there are');
    steadyLoadW += wattsW * simultaneous;
    peakLoadW += wattsW * simultaneous * inrushFactor;
  });
  const requiredRatingW = steadyLoadW * (1 + reserve);
  return {
    steadyLoadW,
    peakLoadW,
    requiredRatingW,
    currentA: requiredRatingW / voltageV,
    utilisation: steadyLoadW / supplyRatingW,
    adequate:
      isAtMost(requiredRatingW, supplyRatingW) && (peakRatingW === undefined || isAtMost(peakLoadW, peakRatingW)),
  };
}
