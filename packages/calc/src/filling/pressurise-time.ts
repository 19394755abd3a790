import { isAtMost, isBelow, requireFinite, requireThat, type CalcNote } from '../errors.js';
import { integrate } from '../numeric/quadrature.js';
import { toMixtureModulus } from '../trapped-oil/effective-bulk-modulus.js';

export interface PressuriseTimeInput {
  /** V: volume to be brought to pressure [m3], 0 <= V */
  volumeM3: number;
  /** K: bulk modulus of the oil [Pa], 0 < K */
  bulkModulusPa: number;
  /** Q_0: flow of the pump without back pressure [m3/s], 0 < Q_0 */
  freeFlowM3PerS: number;
  /** p_s: stall pressure [Pa], 0 < p_s */
  stallPressurePa: number;
  /** p: pressure to be reached [Pa], p_0 <= p < p_s */
  targetPressurePa: number;
  /** p_0: pressure at the start [Pa], 0 <= p_0 */
  startPressurePa: number;
  /** a: air volume over total volume at atmosphere [1], 0 <= a <= 1 */
  airFraction: number;
  /** n: polytropic exponent of the air [1], 0 < n */
  polytropic: number;
  /** V_s: oil that the strokes take before the pressure rises [m3], 0 <= V_s */
  strokeVolumeM3: number;
}
export interface PressuriseTimeResult {
  /** t: time from the start to the target pressure [s] */
  timeS: number;
  /** t_f: time to fill the strokes at free flow [s] */
  fillTimeS: number;
  /** t_t: both together [s] */
  totalTimeS: number;
  notes: CalcNote[];
}
/**
 * Time in which a pump with a straight curve fills the strokes and brings a stiff volume to a pressure.
 *
 * @formula
 * t = (V * p_s / (K * Q_0)) * log((p_s - p_0) / (p_s - p))
 * t_f = V_s / Q_0
 * t_t = t_f + t
 * @assumes Straight pump curve; no line resistance; with air the modulus of `effective-bulk-modulus` inside the integral V·∫dp/(K(p)·Q(p)), by adaptive quadrature.
 * @range Near stall the time runs away: a note above 0.9 of the stall pressure.
 * @throws CalcInputError inconsistent: target not below stall, or start above the target. no-result: the integral with air cannot be found. not-finite: NaN or infinite input.
 * @example litre
 * in  volumeM3=0.001 bulkModulusPa=1.2e9 freeFlowM3PerS=1.5e-5 stallPressurePa=20e6 targetPressurePa=17.5e6 startPressurePa=0 airFraction=0 polytropic=1.4 strokeVolumeM3=0
 * out timeS=2.310490601866484
 * @source Volume balance, integrated; checked against an initial-value solution.
 */
export function pressuriseTime(input: PressuriseTimeInput): PressuriseTimeResult {
  requireFinite(input);
  const { volumeM3, bulkModulusPa, freeFlowM3PerS, stallPressurePa, targetPressurePa, startPressurePa } = input;
  const { airFraction, polytropic, strokeVolumeM3 } = input;
  requireThat(
    isBelow(targetPressurePa, stallPressurePa),
    'inconsistent',
    ['targetPressurePa', 'stallPressurePa'],
    'a target below the stall pressure',
  );
  requireThat(
    isAtMost(startPressurePa, targetPressurePa),
    'inconsistent',
    ['startPressurePa', 'targetPressurePa'],
    'a start not above the target',
  );
  // With s = −p_s·ln(1 − p/p_s) the pump's curve drops out: dt = V/(K·Q₀)·ds, and stall lies at infinity.
  const toStretched = (pressurePa: number): number => -stallPressurePa * Math.log1p(-pressurePa / stallPressurePa);
  const toPressure = (stretched: number): number => -stallPressurePa * Math.expm1(-stretched / stallPressurePa);
  const from = toStretched(startPressurePa);
  const to = toStretched(targetPressurePa);
  const compliance =
    airFraction === 0
      ? (to - from) / bulkModulusPa
      : integrate((s) => 1 / toMixtureModulus(bulkModulusPa, airFraction, toPressure(s), polytropic), from, to);
  requireThat(
    compliance !== null,
    'no-result',
    ['airFraction', 'polytropic', 'targetPressurePa'],
    'air and pressures whose time can be found',
  );
  const timeS = Math.max(0, (volumeM3 * compliance) / freeFlowM3PerS);
  const fillTimeS = strokeVolumeM3 / freeFlowM3PerS;
  const isNearStall = targetPressurePa > 0.9 * stallPressurePa;
  return {
    timeS,
    fillTimeS,
    totalTimeS: fillTimeS + timeS,
    notes: isNearStall
      ? [{ code: 'near-stall', parameters: { pressurePa: targetPressurePa, stallPressurePa, limit: 0.9 } }]
      : [],
  };
}
