export interface CheckTolerance {
  type: 'rel' | 'abs' | 'exact';
  value: number;
  outputs?: Record<string, { type: 'rel' | 'abs' | 'exact'; value: number }>;
}
export interface CheckRow {
  id: string;
  calculation: string;
  inputs: Record<string, unknown>;
  expected?: Record<string, unknown>;
  problem?: { field: string };
  tolerance: CheckTolerance;
  kind: string;
  source: string;
}
export interface CheckFile {
  rows: CheckRow[];
  facts: {
    id: string;
    topic: string;
    statement: string;
    values: Record<string, unknown>;
    kind: string;
    source: string;
  }[];
}
export function checkRow(
  row: CheckRow,
  answer: {
    result?: Record<string, unknown> | undefined;
    problem?: { field: string; fields?: readonly string[] } | undefined;
  },
): { failures: string[]; largestError: number };
