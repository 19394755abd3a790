/** The texts of a calculation, taken from its function's docstring. */
export interface CalculationDoc {
  readonly summary: string;
  /** lines that can be evaluated, in the symbols */
  readonly formula: readonly string[];
  /** how it is done where a formula line cannot be run */
  readonly method: readonly string[];
  readonly assumes: string;
  readonly range: string;
  readonly sources: readonly string[];
  /** by SI field name */
  readonly symbols: Readonly<Record<string, { readonly symbol: string; readonly meaning: string }>>;
}
