import { isBelow, requireFinite, requireThat, type CalcNote } from '../errors.js';
import { frictionFactor, type FlowRegime } from './friction-factor.js';

export interface LineLossInput {
  /** L: length of the line [m], 0 <= L */
  lengthM: number;
  /** d: inner diameter [m], 0 < d */
  innerDiameterM: number;
  /** Q: flow [m3/s], 0 < Q */
  flowM3PerS: number;
  /** nu: kinematic viscosity [m2/s], 0 < nu */
  kinematicViscosityM2PerS: number;
  /** rho: density [kg/m3], 0 <= rho */
  densityKgPerM3: number;
  /** k: roughness of the wall [m], 0 <= k < d */
  roughnessM: number;
  /** K: sum of the loss coefficients of fittings [1], 0 <= K */
  minorLossSum: number;
}
export interface LineLossResult {
  /** v: mean velocity [m/s] */
  velocityMPerS: number;
  /** Re: Reynolds number [1] */
  reynolds: number;
  regime: FlowRegime;
  /** f: Darcy friction factor [1] */
  frictionFactor: number;
  /** dp: loss of pressure [Pa] */
  pressureLossPa: number;
  notes: CalcNote[];
}
/**
 * Loss of pressure in a line with its fittings.
 *
 * @formula
 * v = Q / (pi * d^2 / 4)
 * Re = v * d / nu
 * dp = (f * L / d + K) * rho * v^2 / 2
 * @assumes Steady, developed flow; f by `friction-factor`, method line.
 * @range Loss coefficients hold for turbulent flow; at Re below 1000 fittings lose several times more (from memory): a note says so.
 * @throws CalcInputError inconsistent: roughness not below the diameter. not-finite: NaN or infinite input.
 * @example laminar
 * in  lengthM=4 innerDiameterM=0.008 flowM3PerS=1e-4 kinematicViscosityM2PerS=4.758620689655172e-5 densityKgPerM3=870 roughnessM=1.5e-6 minorLossSum=0
 * out pressureLossPa=164725.36610011168 reynolds=334.45603983079457
 * @source Darcy–Weisbach; Hagen–Poiseuille for the laminar case.
 */
export function lineLoss(input: LineLossInput): LineLossResult {
  requireFinite(input);
  const { lengthM, innerDiameterM, flowM3PerS, kinematicViscosityM2PerS, densityKgPerM3, roughnessM, minorLossSum } =
    input;
  requireThat(
    isBelow(roughnessM, innerDiameterM),
    'inconsistent',
    ['roughnessM', 'innerDiameterM'],
    'roughness below the inner diameter',
  );
  const velocityMPerS = flowM3PerS / ((Math.PI * innerDiameterM ** 2) / 4);
  const reynolds = (velocityMPerS * innerDiameterM) / kinematicViscosityM2PerS;
  const friction = frictionFactor({ reynolds, relativeRoughness: roughnessM / innerDiameterM, method: 'line' });
  const notes = [...friction.notes];
  if (minorLossSum > 0 && reynolds < 1000)
    notes.push({ code: 'fittings-lose-more-when-laminar', parameters: { reynolds } });
  const heads = (friction.frictionFactor * lengthM) / innerDiameterM + minorLossSum;
  return {
    velocityMPerS,
    reynolds,
    regime: friction.regime,
    frictionFactor: friction.frictionFactor,
    pressureLossPa: (heads * densityKgPerM3 * velocityMPerS ** 2) / 2,
    notes,
  };
}
