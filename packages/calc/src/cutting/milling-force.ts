import { isBelow, requireFinite, requireThat, type CalcNote } from '../errors.js';
import { findArc, type Arc } from './milling-arc.js';
import { toSpecificForce, toThicknessNotes } from './specific-cutting-force.js';

export type MillingEngagement = 'up' | 'down' | 'centred';

export interface MillingForceInput {
  /** k: specific cutting force at 1 mm by 1 mm [Pa], 0 <= k */
  kc11Pa: number;
  /** m: exponent of the chip thickness [1], 0 <= m <= 1 */
  mc: number;
  /** D: cutter diameter [m], 0 < D */
  cutterDiameterM: number;
  /** z: number of teeth [1], 1 <= z */
  teeth: number;
  /** f_z: feed per tooth [m], 0 < f_z */
  feedPerToothM: number;
  /** a_p: axial depth [m], 0 <= a_p */
  axialDepthM: number;
  /** a_e: radial width [m], 0 < a_e <= D */
  radialWidthM?: number | undefined;
  engagement?: MillingEngagement | undefined;
  /** phi_1: where the edge enters [rad], 0 <= phi_1 < phi_2 */
  entryAngleRad?: number | undefined;
  /** phi_2: where the edge leaves [rad], phi_1 < phi_2 <= pi */
  exitAngleRad?: number | undefined;
  /** kappa: cutting edge angle, for a helix 90° less the helix [rad], 0 < kappa < pi */
  leadAngleRad: number;
  /** n: speed of the spindle [Hz], 0 <= n */
  speedHz?: number | undefined;
  /** v_c: cutting speed [m/s], 0 <= v_c */
  cuttingSpeedMPerS?: number | undefined;
  /** w: product of wear and other corrections [1], 0 <= w */
  wear: number;
}
export interface MillingForceResult {
  /** phi_1: where the edge enters [rad] */
  entryAngleRad: number;
  /** phi_2: where the edge leaves [rad] */
  exitAngleRad: number;
  /** h_m: mean chip thickness over the arc [m] */
  meanChipThicknessM: number;
  /** z_e: teeth in cut on average [1] */
  teethEngaged: number;
  /** F_m: tangential force of a tooth at the mean chip thickness [N] */
  meanTangentialForcePerToothN: number;
  /** F_p: largest sum of tangential forces of all teeth in cut [N] */
  peakTangentialForceN: number;
  /** Q: material removed [m3/s] */
  materialRemovalRateM3PerS: number;
  /** P: mean power [W] */
  meanPowerW: number;
  /** M: mean torque [N.m] */
  torqueNm: number;
  notes: CalcNote[];
}

const ANGLE_ROUNDING = 1e-9;

/**
 * Largest Σ sin^e(φ) over the teeth in cut during a turn. Between two events (a tooth enters or leaves) the sum is
 * concave (0 ≤ e ≤ 1), so a golden-section search finds its only maximum; at the events the closed arc counts both ends.
 */
function findLargestSum({ entry, exit }: Arc, teeth: number, exponent: number): number {
  const pitch = (2 * Math.PI) / teeth;
  const sumAt = (offset: number): number => {
    let sum = 0;
    const first = Math.ceil((entry - offset - ANGLE_ROUNDING) / pitch);
    for (let k = first; offset + k * pitch <= exit + ANGLE_ROUNDING; k += 1) {
      sum += Math.max(0, Math.sin(offset + k * pitch)) ** exponent;
    }
    return sum;
  };
  const toOffset = (angle: number): number => ((angle % pitch) + pitch) % pitch;
  const low = Math.min(toOffset(entry), toOffset(exit));
  const high = Math.max(toOffset(entry), toOffset(exit));
  const pieces = [
    [low, high],
    [high, low + pitch],
  ] as const;
  const golden = (Math.sqrt(5) - 1) / 2;
  let largest = Math.max(sumAt(low), sumAt(high));
  for (const [from, to] of pieces) {
    let [a, b] = [from, to];
    for (let step = 0; step < 80; step += 1) {
      const [left, right] = [b - golden * (b - a), a + golden * (b - a)];
      if (sumAt(left) < sumAt(right)) a = left;
      else b = right;
    }
    largest = Math.max(largest, sumAt((a + b) / 2));
  }
  return largest;
}

/**
 * Cutting forces, power and torque of a milling cutter, mean over the arc and at its worst angle.
 *
 * @formula
 * arc = phi_2 - phi_1
 * h_m = f_z * sin(kappa) * (cos(phi_1) - cos(phi_2)) / arc
 * z_e = z * arc / (2 * pi)
 * k_m = k * (h_m * 1000)^(-m)
 * F_m = k_m * a_p / sin(kappa) * h_m * w
 * Q = a_p * a_e * f_z * z * n
 * P = Q * k_m * w
 * M = a_p * a_e * f_z * z * k_m * w / (2 * pi)
 * @assumes h(φ) = f_z·sin κ·sin φ, φ from where an up-cut chip starts; up: 0 … acos(1 − 2a_e/D); down: its mirror, ending at 180°; centred: 90° ± asin(a_e/D). Reference unit of the chip thickness: mm. Peak: largest sum of kc11·b·h^(1−mc)·wear over all teeth in cut, equal pitch, closed arc.
 * @range Chip thickness about 0.05 to 2.5 mm: outside a note. The force turns through the arc: check several directions. For clamping take the peak.
 * @throws CalcInputError inconsistent: width above the diameter, or exit before entry. out-of-range: angles beyond 180°. not-finite: NaN or infinite input.
 * @example up
 * in  {"kc11Pa":1780e6,"mc":0.17,"cutterDiameterM":0.05,"teeth":4,"feedPerToothM":1.2e-4,"axialDepthM":0.003,"radialWidthM":0.03,"engagement":"up","leadAngleRad":1.5707963267948966,"speedHz":16.666666666666668,"wear":1}
 * out meanChipThicknessM=8.125703515719201e-5 exitAngleRad=1.7721542475852274
 * @source Kienzle & Victor 1957; mean chip thickness as in Dietrich/Tschätsch 2014; peak derived here, checked by quadrature.
 */
export function millingForce(input: MillingForceInput): MillingForceResult {
  requireFinite(input);
  const { kc11Pa, mc, cutterDiameterM, teeth, feedPerToothM, axialDepthM, leadAngleRad, wear } = input;
  requireThat(isBelow(leadAngleRad, Math.PI), 'out-of-range', ['leadAngleRad'], 'below 180 deg');
  const speed = input.speedHz ?? Number(input.cuttingSpeedMPerS) / (Math.PI * cutterDiameterM);
  requireThat(
    Number.isFinite(speed),
    'inconsistent',
    ['speedHz', 'cuttingSpeedMPerS'],
    'a speed of the spindle or of the cut',
  );
  const arc = findArc(input);
  const span = arc.exit - arc.entry;
  const thickest = feedPerToothM * Math.sin(leadAngleRad);
  const meanChipThicknessM = (thickest * 2 * arc.radialWidthM) / (cutterDiameterM * span);
  const meanKc = toSpecificForce(kc11Pa, mc, meanChipThicknessM);
  const widthM = axialDepthM / Math.sin(leadAngleRad);
  const peakPerTooth = toSpecificForce(kc11Pa, mc, thickest) * widthM * thickest * wear;
  const volumePerTurn = axialDepthM * arc.radialWidthM * feedPerToothM * teeth;
  return {
    entryAngleRad: arc.entry,
    exitAngleRad: arc.exit,
    meanChipThicknessM,
    teethEngaged: (teeth * span) / (2 * Math.PI),
    meanTangentialForcePerToothN: meanKc * widthM * meanChipThicknessM * wear,
    peakTangentialForceN: peakPerTooth * findLargestSum(arc, teeth, 1 - mc),
    materialRemovalRateM3PerS: volumePerTurn * speed,
    meanPowerW: volumePerTurn * speed * meanKc * wear,
    torqueNm: (volumePerTurn * meanKc * wear) / (2 * Math.PI),
    notes: toThicknessNotes(meanChipThicknessM),
  };
}
