import { isBelow, requireFinite, requireThat, type CalcNote } from '../errors.js';

export interface RodSideIntensificationInput {
  /** D: bore, the piston's diameter [m], 0 < D */
  boreM: number;
  /** d: rod diameter [m], 0 <= d < D */
  rodM: number;
  /** p: gauge pressure on the piston side [Pa], 0 <= p */
  pressurePa: number;
  /** F: force that pulls the rod out [N], 0 <= F */
  externalPullN: number;
}
export interface RodSideIntensificationResult {
  /** p_rod: gauge pressure of the oil shut in on the rod side [Pa] */
  rodSidePressurePa: number;
  notes: CalcNote[];
}
/**
 * Pressure on the rod side of a cylinder whose rod port is blocked while the piston side is pressurised.
 *
 * @formula
 * p_rod = (p * pi * D^2 / 4 + F) / (pi * (D^2 - d^2) / 4)
 * @assumes No friction, rod at rest away from its end stops, oil shut in by a plug, an unmated coupler or a failed check valve.
 * @range The relief valve of the piston side does not see this pressure: compare it with the weakest rating of the rod side.
 * @throws CalcInputError inconsistent: the rod is not smaller than the bore. not-finite: NaN or infinite input.
 * @example doubled
 * in  boreM=0.04 rodM=0.0282842712474619 pressurePa=20e6 externalPullN=0
 * out rodSidePressurePa=40e6
 * @source Balance of forces on the piston; example: rod side of half the area doubles the pressure (public fluid-power text).
 */
export function rodSideIntensification(input: RodSideIntensificationInput): RodSideIntensificationResult {
  requireFinite(input);
  const { boreM, rodM, pressurePa, externalPullN } = input;
  requireThat(isBelow(rodM, boreM), 'inconsistent', ['rodM', 'boreM'], 'rod smaller than bore');
  const pistonM2 = (Math.PI * boreM ** 2) / 4;
  const annulusM2 = (Math.PI * (boreM - rodM) * (boreM + rodM)) / 4;
  return {
    rodSidePressurePa: (pressurePa * pistonM2 + externalPullN) / annulusM2,
    notes: [{ code: 'relief-does-not-see-rod-side' }],
  };
}
