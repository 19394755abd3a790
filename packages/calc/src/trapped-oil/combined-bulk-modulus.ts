import { requireFinite, requireThat } from '../errors.js';

export interface CombinedBulkModulusInput {
  /** K_0: bulk modulus of the oil [Pa], 0 < K_0 */
  oilModulusPa: number;
  /** V: volume of the oil, needed with hoses [m3], 0 < V */
  volumeM3?: number | undefined;
  /** free gas at the working pressure: its share of the volume, and its modulus (the absolute pressure, or 1.4 of it) */
  gas?: { fraction: number; modulusPa: number } | undefined;
  /** tubes and cylinders: modulus, and share of the volume that lies in them */
  containers?: readonly { modulusPa: number; share: number }[] | undefined;
  /** hoses: growth of volume at a pressure, as the maker states it */
  hoses?: readonly { swellM3: number; pressurePa: number }[] | undefined;
}
export interface CombinedBulkModulusResult {
  /** K: bulk modulus of all together [Pa] */
  bulkModulusPa: number;
}
/**
 * Bulk modulus of oil, free gas, tubes and hoses together.
 *
 * @method 1/K = 1/K_oil + fraction/K_gas + Σ share/K_container + Σ swell/(pressure·volume).
 * @residual 1e9 * (1 / bulkModulusPa - 1 / oilModulusPa - 0.01 / 3.5e6 - 1 / 2e10 - 2e-6 / (1e7 * volumeM3))
 * @assumes Gas fraction AT the working pressure (not that at atmosphere); small changes of volume add up.
 * @range Published example: 250 000 psi oil with 1 % of air at 500 psi and a tube of D/t = 10 gives 41 096 psi.
 * @throws CalcInputError inconsistent: hoses without a volume. not-finite: NaN or infinite input.
 * @example all-four
 * in  {"oilModulusPa":1.6e9,"volumeM3":0.001,"gas":{"fraction":0.01,"modulusPa":3.5e6},"containers":[{"modulusPa":2e10,"share":1}],"hoses":[{"swellM3":2e-6,"pressurePa":1e7}]}
 * out bulkModulusPa=267942583.73205745
 * @source Sum of compliances; inputs of the example after the textbook chapter doi 10.1201/9781482269895-28.
 */
export function combinedBulkModulus(input: CombinedBulkModulusInput): CombinedBulkModulusResult {
  requireFinite(input);
  const { oilModulusPa, volumeM3, gas, containers = [], hoses = [] } = input;
  let compliance = 1 / oilModulusPa;
  if (gas) compliance += gas.fraction / gas.modulusPa;
  for (const { modulusPa, share } of containers) compliance += share / modulusPa;
  for (const { swellM3, pressurePa } of hoses) {
    requireThat(volumeM3 !== undefined, 'inconsistent', ['volumeM3', 'hoses'], 'the volume that the hoses belong to');
    compliance += swellM3 / (pressurePa * volumeM3);
  }
  return { bulkModulusPa: 1 / compliance };
}
