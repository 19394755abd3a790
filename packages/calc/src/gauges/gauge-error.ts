import { isAtMost, isBelow, requireFinite, requireThat } from '../errors.js';

/** [lower quarter, middle half, upper quarter] in % of span. Source: ASME B40.100; grade A seen, the others from memory. */
const GRADES = {
  '4A': [0.1, 0.1, 0.1],
  '3A': [0.25, 0.25, 0.25],
  '2A': [0.5, 0.5, 0.5],
  '1A': [1, 1, 1],
  A: [2, 1, 2],
  B: [3, 2, 3],
  C: [4, 3, 4],
  D: [5, 5, 5],
} as const;
export type GaugeGrade = keyof typeof GRADES;
export const GAUGE_GRADES = ['4A', '3A', '2A', '1A', 'A', 'B', 'C', 'D'] as const satisfies readonly GaugeGrade[];
/** Source: EN 837-1:1996, Table 11 (text seen). */
export const GAUGE_CLASSES = [0.1, 0.25, 0.6, 1, 1.6, 2.5, 4] as const;

/** A class is stated for a gauge at this temperature [K]. Source: EN 837-1:1996 (20 °C). */
export const GAUGE_REFERENCE_K = 293.15;

export interface GaugeErrorInput {
  /** s: span of the gauge [Pa], 0 <= s */
  spanPa: number;
  /** C: accuracy class of EN 837-1, % of span [1] */
  accuracyClass?: number | undefined;
  /** grade of ASME B40.100 */
  grade?: GaugeGrade | undefined;
  /** p: reading, with a grade [Pa], 0 <= p <= s */
  readingPa?: number | undefined;
  /** T: temperature of the gauge [K] */
  temperatureK: number;
}
export interface GaugeErrorResult {
  /** e: permissible error either way [Pa] */
  errorPa: number;
}
/**
 * Permissible error of a pressure gauge, by its class or by its grade at a reading, with temperature.
 *
 * @method Class: C % of span. Grade: the percentage of the quarter that the reading lies in (the ends of the middle half belong to it). Plus 0.04 % of span per K away from 20 °C.
 * @residual errorPa - spanPa * (accuracyClass + 0.04 * abs(temperatureK - 293.15)) / 100
 * @assumes Gauge within its calibration; reading error of the person not included.
 * @range Bourdon tubes; capsules and diaphragms err more. Grades other than A from memory of ASME B40.100.
 * @throws CalcInputError inconsistent: class and grade both or neither given, or a reading above the span. not-finite: NaN or infinite input.
 * @example class
 * in  spanPa=25e6 accuracyClass=2.5 temperatureK=278.15
 * out errorPa=775000
 * @source EN 837-1:1996 Table 11 (text seen); ASME B40.100 grade A (seen), others from memory; 0.04 % per K of Bourdon tubes (EN 837-1 as quoted in a maker's manual, seen).
 */
export function gaugeError(input: GaugeErrorInput): GaugeErrorResult {
  requireFinite(input);
  const { spanPa, accuracyClass, grade, readingPa, temperatureK } = input;
  const temperaturePercent = 0.04 * Math.abs(temperatureK - GAUGE_REFERENCE_K);
  const toError = (percent: number): GaugeErrorResult => ({ errorPa: (spanPa * (percent + temperaturePercent)) / 100 });
  if (accuracyClass !== undefined && grade === undefined) return toError(accuracyClass);
  const hasGrade = grade !== undefined && accuracyClass === undefined && readingPa !== undefined;
  requireThat(hasGrade, 'inconsistent', ['accuracyClass', 'grade', 'readingPa'], 'a class, or a grade with a reading');
  requireThat(isAtMost(readingPa, spanPa), 'inconsistent', ['readingPa', 'spanPa'], 'a reading within the span');
  const [lower, middle, upper] = GRADES[grade];
  if (isBelow(readingPa, 0.25 * spanPa)) return toError(lower);
  return toError(isAtMost(readingPa, 0.75 * spanPa) ? middle : upper);
}
