import { requireFinite, requireThat } from '../errors.js';
import { meanAbsorptionTime } from '../numeric/absorption-time.js';
import { gaussLegendre } from '../numeric/gauss-legendre.js';
import { normalDensity, normalUpper } from '../numeric/normal.js';

export interface EwmaArlInput {
  /** lambda: weight of the newest value [1], 0 < lambda <= 1 */
  lambda: number;
  /** L: limit in standard deviations of the settled average [1], 0 < L */
  limit: number;
  /** delta: shift of the mean in standard deviations [1], either sign */
  shift: number;
}
export interface EwmaArlResult {
  /** average run length in samples */
  arl: number;
}

const MOST_NODES = 1501;

/**
 * Average run length of an exponentially weighted moving average with fixed limits on both sides.
 *
 * @method Integral equation over (−c, c), c = L·√(λ/(2 − λ)), by Gauss–Legendre nodes with zero among them, solved by state reduction without subtraction; started at zero.
 * @residual arl - 499.57955
 * @assumes Samples independent, normal, standard deviation one; fixed limits.
 * @range Better than 0.1 %. Published tables contain misprints: compute again.
 * @throws CalcInputError too-many: lambda too small for the limit. not-finite: NaN or infinite input.
 * @example tenth
 * in  lambda=0.1 limit=2.814 shift=0
 * out arl=499.57955008
 * @source Crowder 1987 (Technometrics 29:401); Lucas & Saccucci 1990 (Technometrics 32:1).
 */
export function ewmaArl(input: EwmaArlInput): EwmaArlResult {
  requireFinite(input);
  const { lambda, limit, shift } = input;
  const reach = limit * Math.sqrt(lambda / (2 - lambda));
  // The kernel is one λ wide: about six nodes to each width, and an odd count for a node at the start.
  const count = 2 * Math.ceil(16 + (3 * reach) / lambda) + 1;
  requireThat(count <= MOST_NODES, 'too-many', ['lambda', 'limit'], 'a larger lambda or a smaller limit');
  const { nodes, weights } = gaussLegendre(count);
  const rates = new Float64Array(count * count);
  const exits = new Float64Array(count);
  for (let i = 0; i < count; i += 1) {
    const from = (1 - lambda) * reach * (nodes[i] as number);
    exits[i] = normalUpper((reach - from) / lambda - shift) + normalUpper((reach + from) / lambda + shift);
    for (let j = 0; j < count; j += 1) {
      const to = reach * (nodes[j] as number);
      rates[i * count + j] = ((reach * (weights[j] as number)) / lambda) * normalDensity((to - from) / lambda - shift);
    }
  }
  return { arl: meanAbsorptionTime(rates, exits, (count - 1) / 2, count) };
}
