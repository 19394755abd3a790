import { ATMOSPHERE_PA } from '../constants.js';
import { isAtMost, requireFinite, requireThat, type CalcNote } from '../errors.js';
import { toAccumulatorNotes } from './accumulator-volume.js';

export interface AccumulatorDeliveryInput {
  /** V_0: gas volume of the accumulator [m3], 0 <= V_0 */
  sizeM3: number;
  /** p_0: gauge gas pressure without oil [Pa], 0 <= p_0 <= p_1 */
  prechargePressurePa: number;
  /** p_1: lower gauge working pressure [Pa], p_0 <= p_1 <= p_2 */
  pressureLowPa: number;
  /** p_2: upper gauge working pressure [Pa], p_1 <= p_2 */
  pressureHighPa: number;
  /** n: polytropic exponent [1], 0 < n */
  polytropic: number;
  /** q: leak that it must make up [m3/s], 0 < q */
  leakRateM3PerS?: number | undefined;
}
export interface AccumulatorDeliveryResult {
  /** V_1: oil inside at the low pressure [m3] */
  oilAtLowM3: number;
  /** V_2: oil inside at the high pressure [m3] */
  oilAtHighM3: number;
  /** dV: oil given between the two [m3] */
  oilVolumeM3: number;
  /** t: time that it feeds the leak [s] */
  holdTimeS?: number;
  notes: CalcNote[];
}
/**
 * Oil that a gas accumulator gives between two pressures, and how long that feeds a leak.
 *
 * @formula
 * V_1 = V_0 * (1 - ((p_0 + 101325) / (p_1 + 101325))^(1 / n))
 * V_2 = V_0 * (1 - ((p_0 + 101325) / (p_2 + 101325))^(1 / n))
 * dV = V_2 - V_1
 * t = dV / q
 * @assumes Ideal gas; absolute pressures inside the formula; constant leak.
 * @range As `accumulator-volume`.
 * @throws CalcInputError inconsistent: pressures not in order. not-finite: NaN or infinite input.
 * @example litre
 * in  sizeM3=0.001 prechargePressurePa=9e6 pressureLowPa=10e6 pressureHighPa=20e6 polytropic=1.4 leakRateM3PerS=1e-7
 * out oilVolumeM3=3.604369106042521e-4 holdTimeS=3604.3691060425213
 * @source Polytropic change of an ideal gas; published example 1 L between 100 and 200 bar.
 */
export function accumulatorDelivery(input: AccumulatorDeliveryInput): AccumulatorDeliveryResult {
  requireFinite(input);
  const { sizeM3, prechargePressurePa, pressureLowPa, pressureHighPa, polytropic, leakRateM3PerS } = input;
  requireThat(
    isAtMost(prechargePressurePa, pressureLowPa),
    'inconsistent',
    ['prechargePressurePa', 'pressureLowPa'],
    'precharge not above the low pressure',
  );
  requireThat(
    isAtMost(pressureLowPa, pressureHighPa),
    'inconsistent',
    ['pressureLowPa', 'pressureHighPa'],
    'low pressure not above the high one',
  );
  const precharge = prechargePressurePa + ATMOSPHERE_PA;
  const oilAt = (pressurePa: number): number =>
    sizeM3 * (1 - (precharge / (pressurePa + ATMOSPHERE_PA)) ** (1 / polytropic));
  const oilAtLowM3 = oilAt(pressureLowPa);
  const oilAtHighM3 = oilAt(pressureHighPa);
  const oilVolumeM3 = oilAtHighM3 - oilAtLowM3;
  const notes = toAccumulatorNotes(prechargePressurePa, pressureLowPa, pressureHighPa);
  const result = { oilAtLowM3, oilAtHighM3, oilVolumeM3, notes };
  return leakRateM3PerS === undefined ? result : { ...result, holdTimeS: oilVolumeM3 / leakRateM3PerS };
}
