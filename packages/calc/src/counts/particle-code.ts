import { isAtMost, requireFinite, requireThat, type CalcNote } from '../errors.js';

/** Upper limits per mL of the scale numbers from 0. Source: ISO 4406:2021 (scale seen in public tables). */
const LIMITS_PER_ML = [
  0.01, 0.02, 0.04, 0.08, 0.16, 0.32, 0.64, 1.3, 2.5, 5, 10, 20, 40, 80, 160, 320, 640, 1300, 2500, 5000, 10_000,
  20_000, 40_000, 80_000, 160_000, 320_000, 640_000, 1_300_000, 2_500_000,
] as const;

export interface ParticleCodeInput {
  /** n_4: particles larger than 4 µm(c) [1/m3], 0 <= n_4 */
  above4PerM3: number;
  /** n_6: particles larger than 6 µm(c) [1/m3], 0 <= n_6 <= n_4 */
  above6PerM3: number;
  /** n_14: particles larger than 14 µm(c) [1/m3], 0 <= n_14 <= n_6 */
  above14PerM3: number;
}
export interface ParticleCodeResult {
  /** such as 18/16/13 */
  code: string;
  codes: number[];
  notes: CalcNote[];
}
/**
 * Cleanliness code of an oil from counted particles.
 *
 * @method Scale number of each count: "more than … up to and including" the limits of the scale; a count on the border belongs to the lower number.
 * @residual codes[1] - 18
 * @residual codes[2] - 16
 * @residual codes[3] - 13
 * @assumes Counts by an automatic counter calibrated to µm(c).
 * @range Up to 2.5 million per mL. Under number 8 with fewer than 20 particles counted report with "≥": a note says so.
 * @throws CalcInputError inconsistent: counts not in order. out-of-range: beyond the scale. not-finite: NaN or infinite input.
 * @example eighteen
 * in  above4PerM3=2e9 above6PerM3=4.5e8 above14PerM3=6e7
 * out {"code":"18/16/13"}
 * @source ISO 4406:2021, scale.
 */
export function particleCode(input: ParticleCodeInput): ParticleCodeResult {
  requireFinite(input);
  const counts = [
    ['above4PerM3', input.above4PerM3],
    ['above6PerM3', input.above6PerM3],
    ['above14PerM3', input.above14PerM3],
  ] as const;
  counts.forEach(([field, count], index) => {
    const coarserThan = counts[index - 1];
    const isOrdered = coarserThan === undefined || isAtMost(count, coarserThan[1]);
    requireThat(isOrdered, 'inconsistent', [field, String(coarserThan?.[0])], 'not more than the finer count');
  });
  const codes = counts.map(([field, count]) => {
    const code = LIMITS_PER_ML.findIndex((limit) => isAtMost(count / 1e6, limit));
    requireThat(code >= 0, 'out-of-range', [field], 'at most 2.5 million per mL');
    return code;
  });
  const notes: CalcNote[] = codes.some((code) => code < 8) ? [{ code: 'few-particles', parameters: { below: 8 } }] : [];
  return { code: codes.join('/'), codes, notes };
}
