/** The transaction that counts are written in: a gateway's own, or a person's request. */
export interface CountsSql {
  /** Rows of a statement. Arrays cross as texts and are cast there; 64-bit numbers come back as text by their statement. */
  rows<T>(text: string, values: readonly unknown[]): Promise<T[]>;
}

/** Turns rows into one array per column, for `unnest`. */
export const columns = <T>(rows: readonly T[], ...of: ((row: T) => unknown)[]): unknown[][] =>
  of.map((value) => rows.map(value));

export const iso = (ms: number): string => new Date(ms).toISOString();
