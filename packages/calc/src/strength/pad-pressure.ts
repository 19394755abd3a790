import { requireFinite, requireThat } from '../errors.js';

/** A pad that is round one way or both, upon a face that is flat. */
export interface RoundPad {
  form: 'sphere' | 'cylinder';
  /** R: radius of the pad where it touches [m], 0 < R */
  radiusM: number;
  /** L: length of a cylinder's line of contact [m], 0 < L */
  lengthM?: number | undefined;
}
export interface PadPressureInput extends RoundPad {
  /** F: force on the pad [N], 0 <= F */
  forceN: number;
  /** E_1: elastic modulus of the pad [Pa], 0 < E_1 */
  padModulusPa: number;
  /** nu_1: Poisson's ratio of the pad [1], 0 <= nu_1 < 1 */
  padPoisson: number;
  /** E_2: elastic modulus of the workpiece [Pa], 0 < E_2 */
  workpieceModulusPa: number;
  /** nu_2: Poisson's ratio of the workpiece [1], 0 <= nu_2 < 1 */
  workpiecePoisson: number;
  /** p_lim: highest pressure that the face may see [Pa], 0 <= p_lim */
  limitPa?: number | undefined;
}
export interface PadPressureResult {
  /** E_c: modulus of the contact [Pa] */
  contactModulusPa: number;
  /** p_0: pressure in the middle of the contact, its highest [Pa] */
  peakPressurePa: number;
  /** p_m: mean pressure over the contact [Pa] */
  meanPressurePa: number;
  /** a: radius of the contact, or half the width of a line [m] */
  halfWidthM: number;
  /** F_lim: force at which the peak reaches the limit [N]; left out without a limit */
  forceAtLimitN?: number;
}

/** Force under which the highest pressure of a contact reaches a limit [N]. */
export function toForceAtLimit(pad: RoundPad, contactModulusPa: number, limitPa: number): number {
  const { form, radiusM, lengthM = 0 } = pad;
  return form === 'sphere'
    ? (Math.PI ** 3 * radiusM ** 2 * limitPa ** 3) / (6 * contactModulusPa ** 2)
    : (Math.PI * radiusM * lengthM * limitPa ** 2) / contactModulusPa;
}

/**
 * Pressure of a round pad on a flat face of the workpiece, by Hertz.
 *
 * @method 1/E_c = (1 − ν₁²)/E₁ + (1 − ν₂²)/E₂. Sphere: p₀ = (6·F·E_c²/(π³·R²))^(1/3), a = (3·F·R/(4·E_c))^(1/3), mean 2/3·p₀. Cylinder: p₀ = √(F·E_c/(π·R·L)), a = √(4·F·R/(π·L·E_c)), mean π/4·p₀. Force at the limit: the same for p₀ = limit.
 * @residual equalText(form, "sphere") ? peakPressurePa - 1.5 * forceN / (pi * halfWidthM^2) : peakPressurePa - 2 * forceN / (pi * halfWidthM * lengthM)
 * @assumes Elastic, smooth, without friction; contact small beside the radius and the thickness of the face.
 * @range A cylinder's ends press harder than its middle unless they are rounded. Metal yields under its face from a peak of about 1.6 times its yield strength on: a mark may be seen earlier.
 * @throws CalcInputError inconsistent: a cylinder without a length, or a sphere with one. not-finite: NaN or infinite input.
 * @example sphere
 * in  {"form":"sphere","forceN":500,"radiusM":0.025,"padModulusPa":200e9,"padPoisson":0.3,"workpieceModulusPa":200e9,"workpiecePoisson":0.3}
 * out contactModulusPa=109890109890.1099 peakPressurePa=1231883424.2173377 halfWidthM=0.0004402211353995258
 * @example cylinder
 * in  {"form":"cylinder","lengthM":0.02,"forceN":500,"radiusM":0.025,"padModulusPa":200e9,"padPoisson":0.3,"workpieceModulusPa":200e9,"workpiecePoisson":0.3,"limitPa":3e8}
 * out peakPressurePa=187027025.77928445 halfWidthM=0.00008509729672957442 forceAtLimitN=1286.482191645020
 * @source Johnson, Contact Mechanics, 1985, ch. 4 (from memory); the same in the Hertz formulas that universities publish (seen).
 */
export function padPressure(input: PadPressureInput): PadPressureResult {
  requireFinite(input);
  const { form, radiusM, lengthM, forceN, padModulusPa, padPoisson, workpieceModulusPa, workpiecePoisson, limitPa } =
    input;
  requireThat(
    (form === 'cylinder') === (lengthM !== undefined),
    'inconsistent',
    ['lengthM', 'form'],
    'a length with a cylinder, and with a cylinder alone',
  );
  const contactModulusPa =
    1 / ((1 - padPoisson ** 2) / padModulusPa + (1 - workpiecePoisson ** 2) / workpieceModulusPa);
  const atLimit =
    limitPa === undefined
      ? {}
      : { forceAtLimitN: toForceAtLimit({ form, radiusM, lengthM }, contactModulusPa, limitPa) };
  if (lengthM === undefined) {
    const peakPressurePa = Math.cbrt((6 * forceN * contactModulusPa ** 2) / (Math.PI ** 3 * radiusM ** 2));
    const halfWidthM = Math.cbrt((3 * forceN * radiusM) / (4 * contactModulusPa));
    return { contactModulusPa, peakPressurePa, meanPressurePa: (2 / 3) * peakPressurePa, halfWidthM, ...atLimit };
  }
  const peakPressurePa = Math.sqrt((forceN * contactModulusPa) / (Math.PI * radiusM * lengthM));
  const halfWidthM = Math.sqrt((4 * forceN * radiusM) / (Math.PI * lengthM * contactModulusPa));
  return { contactModulusPa, peakPressurePa, meanPressurePa: (Math.PI / 4) * peakPressurePa, halfWidthM, ...atLimit };
}
