import { isAtMost, requireFinite } from '../errors.js';

/** Source: NEC (NFPA 70) 240.6(A), standard ampere ratings up to 400 A; up to 60 A seen, above from memory. */
const SIZES_A = [
  15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100, 110, 125, 150, 175, 200, 225, 250, 300, 350, 400,
] as const;
/** Source: NEC (NFPA 70) 240.4(D), copper: 14, 12, 10 AWG seen; 18 and 16 AWG (with conditions) from memory. */
const CONDUCTOR_LIMIT_A: ReadonlyMap<number, number> = new Map([
  [18, 7],
  [16, 10],
  [14, 15],
  [12, 20],
  [10, 30],
]);
export const PROTECTED_GAUGES: readonly number[] = [...CONDUCTOR_LIMIT_A.keys()];

export interface ProtectionChoiceInput {
  /** I: current of the load [A], 0 <= I */
  loadA: number;
  /** on for three hours or more */
  continuous: boolean;
  /** AWG number of the copper conductor: 18, 16, 14, 12 or 10 */
  gauge?: number | undefined;
}
export interface ProtectionChoiceResult {
  /** I_r: rating asked for [A] */
  requiredRatingA: number;
  /** I_p: next standard size [A]; null above the largest */
  protectionA: number | null;
  /** I_c: largest protection of the conductor [A]; left out without a gauge */
  conductorLimitA?: number;
  /** the protection protects the conductor; left out without a gauge */
  adequate?: boolean;
}
/**
 * Next standard size of a protective device for a load, and whether it protects the conductor.
 *
 * @method required = 1.25 × load when continuous; protection = the next standard size; adequate = protection ≤ limit of the conductor.
 * @residual requiredRatingA - 1.25 * loadA
 * @residual protectionA - 15
 * @assumes Copper; motors and transformers follow other articles.
 * @range No standard size protects 18 or 16 AWG by itself: a supplementary device is needed. The local code decides.
 * @throws CalcInputError not-finite: NaN or infinite input.
 * @example ten-ampere
 * in  {"loadA":10,"continuous":true,"gauge":14}
 * out requiredRatingA=12.5 protectionA=15 conductorLimitA=15
 * @source NEC (NFPA 70) 240.4(D) and 240.6(A), partly from memory; 125 % for continuous loads from memory.
 */
export function protectionChoice(input: ProtectionChoiceInput): ProtectionChoiceResult {
  requireFinite(input);
  const { loadA, continuous, gauge } = input;
  const requiredRatingA = continuous ? 1.25 * loadA : loadA;
  const protectionA = SIZES_A.find((size) => isAtMost(requiredRatingA, size)) ?? null;
  const limit = gauge === undefined ? undefined : CONDUCTOR_LIMIT_A.get(gauge);
  if (limit === undefined) return { requiredRatingA, protectionA };
  return {
    requiredRatingA,
    protectionA,
    conductorLimitA: limit,
    adequate: protectionA !== null && protectionA <= limit,
  };
}
