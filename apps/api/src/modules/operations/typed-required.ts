import type { Operation } from '@repo/contracts';

/** The source of a pressure that is computed begins with it. */
export const COMPUTED_BY = 'operation-required-pressure';

/** What was typed of the required pressure: it stays while the pressure is computed, and comes back when somebody goes back to typing. */
export function typedRequiredOf(
  before: Pick<Operation, 'requiredBasis' | 'requiredPressure' | 'requiredSource' | 'typedRequired'>,
): { requiredPressure: Operation['requiredPressure']; requiredSource: string } {
  const typed = before.requiredBasis === 'typed' ? before : before.typedRequired;
  const { requiredPressure = null, requiredSource = '' } = typed ?? {};
  return { requiredPressure, requiredSource };
}
