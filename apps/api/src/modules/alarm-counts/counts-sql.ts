/** The transaction that counts are written in: a gateway's own, or a person's request. */
export interface CountsSql {
  /** Rows of a statement. Arrays cross as texts and are cast there; 64-bit numbers come back as text by their statement. */
  rows<T>(text: string, values: readonly unknown[]): Promise<T[]>;
}

/** One value of an array literal. */
function element(value: unknown): string {
  if (value === null) return 'NULL';
  if (typeof value === 'number' || typeof value === 'boolean') return String(value);
  const text = String(value);
  return /["\\]/.test(text) ? `"${text.replaceAll(/["\\]/g, String.raw`\$&`)}"` : `"${text}"`;
}

/** Turns rows into one array literal per column, for `unnest`: written here, since the driver's own takes as long as all the rest. */
export const columns = <T>(rows: readonly T[], ...of: ((row: T) => unknown)[]): string[] =>
  of.map((value) => `{${rows.map((row) => element(value(row))).join(',')}}`);

export const iso = (ms: number): string => new Date(ms).toISOString();
