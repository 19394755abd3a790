import { ATMOSPHERE_PA } from '../constants.js';
import { isAtMost, isBelow, requireFinite, requireThat, type CalcNote } from '../errors.js';

export interface AccumulatorVolumeInput {
  /** dV: oil to be given between the two pressures [m3], 0 <= dV */
  oilVolumeM3: number;
  /** p_0: gauge gas pressure without oil [Pa], 0 <= p_0 <= p_1 */
  prechargePressurePa: number;
  /** p_1: lower gauge working pressure [Pa], p_0 <= p_1 < p_2 */
  pressureLowPa: number;
  /** p_2: upper gauge working pressure [Pa], p_1 < p_2 */
  pressureHighPa: number;
  /** n: polytropic exponent [1], 0 < n */
  polytropic: number;
}
export interface AccumulatorVolumeResult {
  /** V_0: gas volume of the accumulator [m3] */
  sizeM3: number;
  notes: CalcNote[];
}

/** Public rules for bladder and diaphragm accumulators; outside them a note. */
export function toAccumulatorNotes(prechargePa: number, lowPa: number, highPa: number): CalcNote[] {
  const notes: CalcNote[] = [];
  if (prechargePa > 0.9 * lowPa)
    notes.push({ code: 'precharge-near-low-pressure', parameters: { ratio: prechargePa / lowPa, limit: 0.9 } });
  if (highPa > 4 * prechargePa)
    notes.push({ code: 'pressure-range-wide', parameters: { highPa, prechargePa, limit: 4 } });
  return notes;
}

/**
 * Size of a gas accumulator that gives an amount of oil between two pressures.
 *
 * @formula
 * V_0 = dV / (((p_0 + 101325) / (p_1 + 101325))^(1 / n) - ((p_0 + 101325) / (p_2 + 101325))^(1 / n))
 * @assumes Ideal gas; absolute pressures inside the formula.
 * @range n 1 for slow holding, 1.4 for fast delivery below about 200 bar. Precharge at most 0.9 of the low pressure, high pressure at most 4 times the precharge: else a note.
 * @throws CalcInputError inconsistent: pressures not in order. not-finite: NaN or infinite input.
 * @example litre
 * in  oilVolumeM3=3e-4 prechargePressurePa=9e6 pressureLowPa=10e6 pressureHighPa=20e6 polytropic=1.4
 * out sizeM3=8.323231921421891e-4
 * @source Polytropic change of an ideal gas; rules for bladder and diaphragm types from public fluid-power pages.
 */
export function accumulatorVolume(input: AccumulatorVolumeInput): AccumulatorVolumeResult {
  requireFinite(input);
  const { oilVolumeM3, prechargePressurePa, pressureLowPa, pressureHighPa, polytropic } = input;
  requireThat(
    isAtMost(prechargePressurePa, pressureLowPa),
    'inconsistent',
    ['prechargePressurePa', 'pressureLowPa'],
    'precharge not above the low pressure',
  );
  requireThat(
    isBelow(pressureLowPa, pressureHighPa),
    'inconsistent',
    ['pressureLowPa', 'pressureHighPa'],
    'low pressure below the high one',
  );
  const precharge = prechargePressurePa + ATMOSPHERE_PA;
  const share = (pressurePa: number): number => (precharge / (pressurePa + ATMOSPHERE_PA)) ** (1 / polytropic);
  return {
    sizeM3: oilVolumeM3 / (share(pressureLowPa) - share(pressureHighPa)),
    notes: toAccumulatorNotes(prechargePressurePa, pressureLowPa, pressureHighPa),
  };
}
