export interface Example {
  /** the check of the calculation from which it is taken */
  check: string;
  source: string;
  inputs: Readonly<Record<string, unknown>>;
}

/** Loaded when one is asked for: no page carries all of them. */
export async function findExample(calculation: string): Promise<Example | null> {
  const { default: examples } = await import('./examples.json', { with: { type: 'json' } });
  return Object.entries(examples).find(([id]) => id === calculation)?.[1] ?? null;
}
