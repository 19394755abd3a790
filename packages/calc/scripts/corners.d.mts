import type { CalculationDescription } from '../src/registry/registry.js';

export function seeded(seed: number): () => number;
export function cornersOf(
  description: Pick<CalculationDescription, 'inputs'>,
  samples: readonly Record<string, unknown>[],
  mixed: number,
): Generator<Record<string, unknown>>;
