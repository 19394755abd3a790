export interface FieldComment {
  comment: string | undefined;
  isNumber: boolean;
}
export interface DocumentedFunction {
  name: string;
  summary: string;
  tags: { name: string; text: string }[];
  parameterCount: number;
  inputType: string;
  resultType: string;
}
export interface CalculationDoc {
  summary: string;
  formula: string[];
  method: string[];
  assumes: string;
  range: string;
  sources: string[];
  symbols: Record<string, { symbol: string; meaning: string }>;
}
export function listSourceFiles(folder: string): string[];
export function readDocs(file: string): {
  interfaces: Record<string, Record<string, FieldComment>>;
  functions: DocumentedFunction[];
};
export function readSymbol(
  comment: string | undefined,
): { symbol: string; meaning: string; unit: string; limit: string | null } | null;
export function toCalculationDoc(file: string): CalculationDoc | null;
