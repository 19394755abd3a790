/** A transaction that is handed on: a gateway's own, or that of a person's request. Only repositories write statements for it. */
export interface SqlTransaction {
  /**
   * Rows of a statement. Arrays cross as texts and are cast there; 64-bit numbers come back as text by their statement.
   * Statements that are sent without waiting for each other run in the order in which they were sent.
   */
  rows<T>(text: string, values: readonly unknown[]): Promise<T[]>;
}

/** One value of an array literal. */
function element(value: unknown): string {
  if (value === null) return 'NULL';
  if (typeof value === 'number' || typeof value === 'boolean') return String(value);
  const text = String(value);
  return /["\\]/.test(text) ? `"${text.replaceAll(/["\\]/g, String.raw`\$&`)}"` : `"${text}"`;
}

function literal<T>(rows: readonly T[], valueOf: (row: T) => unknown): string {
  let text = '';
  let last: unknown;
  let written = '';
  for (const row of rows) {
    const value = valueOf(row);
    // Columns are full of the same again: whose, by whom, which circuit.
    if (value !== last || text === '') written = element((last = value));
    text += text === '' ? written : `,${written}`;
  }
  return `{${text}}`;
}

/** Turns rows into one array literal per column, for `unnest`: written here, since the driver's own takes as long as all the rest. */
export const columns = <T>(rows: readonly T[], ...values: ((row: T) => unknown)[]): string[] =>
  values.map((valueOf) => literal(rows, valueOf));
