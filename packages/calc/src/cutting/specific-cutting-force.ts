import { requireFinite, requireThat, type CalcNote } from '../errors.js';

export interface SpecificCuttingForceInput {
  /** k: specific cutting force at 1 mm by 1 mm [Pa], 0 <= k */
  kc11Pa: number;
  /** m: exponent of the chip thickness [1], 0 <= m <= 1 */
  mc: number;
  /** h: chip thickness [m], 0 < h */
  chipThicknessM: number;
  /** gamma: rake angle [rad], either sign */
  rakeAngleRad?: number | undefined;
  /** gamma_0: rake angle that kc11 was measured at [rad], either sign */
  referenceRakeRad?: number | undefined;
  /** C: product of wear, speed, compression … [1], 0 <= C */
  correction: number;
  /** b: width of the chip [m], 0 <= b */
  widthM?: number | undefined;
}
export interface SpecificCuttingForceResult {
  /** k_c: specific cutting force [Pa] */
  kcPa: number;
  /** F: cutting force at the width [N] */
  forceN?: number;
  notes: CalcNote[];
}

/** kc11·h^(−mc), h in mm: the reference unit of the law. Without limits and corrections, for the loops of milling. */
export function toSpecificForce(kc11Pa: number, mc: number, chipThicknessM: number): number {
  return kc11Pa * (chipThicknessM * 1000) ** -mc;
}

export function toThicknessNotes(chipThicknessM: number): CalcNote[] {
  const [leastM, mostM] = [0.05e-3, 2.5e-3];
  const isInside = chipThicknessM >= leastM && chipThicknessM <= mostM;
  return isInside ? [] : [{ code: 'chip-thickness-outside-law', parameters: { chipThicknessM, leastM, mostM } }];
}

/**
 * Specific cutting force by the law of Kienzle, and the force of a chip of a width.
 *
 * @formula
 * g = (gamma - gamma_0) * 180 / pi
 * k_c = k * (h * 1000)^(-m) * (1 - g / 100) * C
 * F = k_c * b * h
 * @assumes Reference units: chip thickness in mm, angles in degrees. Sharp tool but for the correction.
 * @range Chip thickness about 0.05 to 2.5 mm (from memory): outside a note. Values of kc11 scatter by 20 % between sources.
 * @throws CalcInputError inconsistent: a rake more than 100° from the reference. not-finite: NaN or infinite input.
 * @example steel
 * in  kc11Pa=1780e6 mc=0.17 chipThicknessM=0.15e-3 rakeAngleRad=0 referenceRakeRad=0 correction=1 widthM=3e-3
 * out kcPa=2457448856.7511487 forceN=1105.851985538017
 * @source Kienzle & Victor 1957; corrections after Dietrich/Tschätsch, Praxis der Zerspantechnik, 11th ed. 2014.
 */
export function specificCuttingForce(input: SpecificCuttingForceInput): SpecificCuttingForceResult {
  requireFinite(input);
  const { kc11Pa, mc, chipThicknessM, rakeAngleRad = 0, referenceRakeRad = 0, correction, widthM } = input;
  const rakeFactor = 1 - ((rakeAngleRad - referenceRakeRad) * 180) / Math.PI / 100;
  requireThat(
    rakeFactor >= 0,
    'inconsistent',
    ['rakeAngleRad', 'referenceRakeRad'],
    'a rake at most 100 deg above the reference',
  );
  const kcPa = toSpecificForce(kc11Pa, mc, chipThicknessM) * rakeFactor * correction;
  const notes = toThicknessNotes(chipThicknessM);
  return widthM === undefined ? { kcPa, notes } : { kcPa, forceN: kcPa * widthM * chipThicknessM, notes };
}
