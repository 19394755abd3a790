import { isBelow, requireFinite, requireThat } from '../errors.js';

export interface ContainerModulusInput {
  /** D: outside diameter [m], 0 < D */
  outerDiameterM: number;
  /** t: wall [m], 0 < t < D/2 */
  wallM: number;
  /** E: elastic modulus of the wall [Pa], 0 <= E */
  elasticModulusPa: number;
  method: 'thick' | 'thin';
  /** nu: Poisson's ratio of the wall [1], 0 <= nu <= 1 */
  poisson: number;
}
export interface ContainerModulusResult {
  /** K_c: pressure per share of volume that the tube gains [Pa] */
  containerModulusPa: number;
}
/**
 * Stiffness of a tube against swelling, as a modulus that adds to the oil's.
 *
 * @formula
 * d = D - 2 * t
 * K_c = equalText(method, "thin") ? E * t / D : E / (2 * ((D^2 + d^2) / (D^2 - d^2) + nu))
 * @assumes Elastic, round; thick: open ends.
 * @range The thin formula is meant for t/D up to 0.1.
 * @throws CalcInputError inconsistent: the wall leaves no bore. not-finite: NaN or infinite input.
 * @example thick
 * in  {"outerDiameterM":0.012,"wallM":0.002,"elasticModulusPa":206e9,"method":"thick","poisson":0.3}
 * out containerModulusPa=35517241379.31035
 * @example thin
 * in  {"outerDiameterM":0.02,"wallM":0.001,"elasticModulusPa":200e9,"method":"thin","poisson":0.3}
 * out containerModulusPa=1e10
 * @source Lamé: displacement of the bore; thin wall from memory, derived anew for the check values.
 */
export function containerModulus(input: ContainerModulusInput): ContainerModulusResult {
  requireFinite(input);
  const { outerDiameterM, wallM, elasticModulusPa, method, poisson } = input;
  requireThat(
    isBelow(2 * wallM, outerDiameterM),
    'inconsistent',
    ['wallM', 'outerDiameterM'],
    'a wall that leaves a bore',
  );
  if (method === 'thin') return { containerModulusPa: (elasticModulusPa * wallM) / outerDiameterM };
  const bore = outerDiameterM - 2 * wallM;
  const ring = 4 * wallM * (outerDiameterM - wallM);
  return { containerModulusPa: elasticModulusPa / (2 * ((outerDiameterM ** 2 + bore ** 2) / ring + poisson)) };
}
