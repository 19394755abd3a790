import { requireFinite, type CalcNote } from '../errors.js';

export interface ClampSlipForceInput {
  /** F: cutting force along the clamped faces [N], 0 <= F */
  cuttingForceN: number;
  /** S: safety factor [1], 0 <= S */
  safetyFactor: number;
  /** mu: friction [1], 0 < mu */
  friction: number;
  /** n: faces that resist sliding, clamp side and locator side [1], 1 <= n */
  frictionFaces: number;
}
export interface ClampSlipForceResult {
  /** F_c: force of all clamps together [N] */
  clampForceN: number;
  notes: CalcNote[];
}
/**
 * Clamping force against sliding along the clamped faces.
 *
 * @formula
 * F_c = S * F / (mu * n)
 * @assumes Force along the faces only; Coulomb friction, the same on all faces.
 * @range Safety factor 2 to 2.5 for milling, 1.5 to 2 for steady drilling (common practice, no source). Coolant-wet steel 0.10 to 0.15; above 0.2 a note: not without a test. Lifting and tipping need `holding-force`.
 * @throws CalcInputError not-finite: NaN or infinite input.
 * @example two-faces
 * in  cuttingForceN=2000 safetyFactor=2.5 friction=0.15 frictionFaces=2
 * out clampForceN=16666.666666666668
 * @source Coulomb friction; cautions after Blau 2001 (Tribology International 34:585, abstract).
 */
export function clampSlipForce(input: ClampSlipForceInput): ClampSlipForceResult {
  requireFinite(input);
  const { cuttingForceN, safetyFactor, friction, frictionFaces } = input;
  const notes: CalcNote[] = [];
  if (friction > 0.2) notes.push({ code: 'friction-needs-a-test', parameters: { friction, limit: 0.2 } });
  if (safetyFactor < 1.5) notes.push({ code: 'low-safety-factor', parameters: { safetyFactor, usual: 1.5 } });
  return { clampForceN: (safetyFactor * cuttingForceN) / (friction * frictionFaces), notes };
}
