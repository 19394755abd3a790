import { requireThat } from '../errors.js';
import { circuitRequiredPressure } from './circuit-required-pressure.js';
import { holdingForce, type HoldingForceInput, type HoldingForceResult } from './holding-force.js';

/** A clamp's chart at one point: its force at its rated pressure. Null: not driven by the circuit (fixed). */
export interface ClampRating {
  ratedForceN: number;
  ratedPressurePa: number;
}

export interface OperationRequiredPressureInput {
  holding: HoldingForceInput;
  /** per clamp of `holding`, in its order */
  ratings: readonly (ClampRating | null)[];
}

export interface OperationRequiredPressureResult {
  /** least pressure of the circuit that holds every load case [Pa]; null: none does */
  requiredPressurePa: number | null;
  /** index of the clamp that asks for the most pressure; null without one */
  governingClamp: number | null;
  holding: HoldingForceResult;
}

/**
 * From cuts to pressure: `holding-force` for the least scale, then `circuit-required-pressure`.
 * @throws CalcInputError inconsistent: ratings and clamps do not match. And as the two calculations do.
 */
export function operationRequiredPressure({
  holding,
  ratings,
}: OperationRequiredPressureInput): OperationRequiredPressureResult {
  requireThat(
    ratings.length === holding.clamps.length,
    'inconsistent',
    ['ratings', 'holding.clamps'],
    'one rating for each clamp',
  );
  const driven = holding.clamps.flatMap(({ fixed, forceN }, index) => {
    const rating = ratings[index] ?? null;
    requireThat(
      fixed === (rating === null),
      'inconsistent',
      [`ratings[${index}]`],
      'a rating for each clamp of the circuit, none for a fixed one',
    );
    return rating === null ? [] : [{ ...rating, forceN, index }];
  });
  const found = holdingForce(holding);
  if (found.scale === null) return { requiredPressurePa: null, governingClamp: null, holding: found };
  if (driven.length === 0) return { requiredPressurePa: 0, governingClamp: null, holding: found };
  const { pressurePa, governingClamp } = circuitRequiredPressure({ clamps: driven, scale: found.scale });
  return { requiredPressurePa: pressurePa, governingClamp: Number(driven[governingClamp]?.index), holding: found };
}
