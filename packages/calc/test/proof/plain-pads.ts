import type { CircuitFacts } from '../../src/index.js';
import { known } from './plain-verdict.js';

/**
 * What pads allow: F such that the peak of Hertz's pressure is the limit, and the pressure at which the clamp gives F. Ball on a flat:
 * p0^3 = 6 F E^2 / (pi^3 R^2); roller: p0^2 = F E / (pi R L) (Johnson, Contact Mechanics, 1985, ch. 4).
 */
export function padLimits({ fixture }: CircuitFacts): (number | null)[] {
  const clamps = (fixture?.elements ?? []).filter(({ kind }) => kind === 'clamp');
  return clamps.flatMap((clamp) => {
    const { padForm, padRadiusM, padLengthM, contactModulusPa, surfacePressureLimitPa, ratedForceN } = clamp;
    if ([padForm, padRadiusM, padLengthM, contactModulusPa, surfacePressureLimitPa].every((one) => one === null)) {
      return [];
    }
    if (padForm === null || padRadiusM === null || contactModulusPa === null || surfacePressureLimitPa === null) {
      return [null];
    }
    if (ratedForceN === null || clamp.ratedPressurePa === null) return [null];
    if (padForm === 'cylinder' && padLengthM === null) return [null];
    const forceN =
      padForm === 'sphere'
        ? surfacePressureLimitPa ** 3 / ((6 * contactModulusPa ** 2) / (Math.PI ** 3 * padRadiusM ** 2))
        : surfacePressureLimitPa ** 2 / (contactModulusPa / (Math.PI * padRadiusM * known(padLengthM)));
    return [forceN / (ratedForceN / clamp.ratedPressurePa)];
  });
}
