import type {
  Alternatives,
  Calculation,
  CalculationGroup,
  CalculationTools,
  CautionCode,
  RunResult,
} from './define.js';
import { DOCS } from './docs.generated.js';
import { countEntries } from './entries/count-entries.js';
import { cuttingEntries } from './entries/cutting-entries.js';
import { electricalEntries } from './entries/electrical-entries.js';
import { fluidEntries } from './entries/fluid-entries.js';
import { gaugeEntries } from './entries/gauge-entries.js';
import { holdingEntries } from './entries/holding-entries.js';
import { interlockEntries } from './entries/interlock-entries.js';
import { pressureEntries } from './entries/pressure-entries.js';
import { stiffnessEntries } from './entries/stiffness-entries.js';
import { transientEntries } from './entries/transient-entries.js';
import type { FieldDescription, InputFields } from './input-fields.js';
import type { OutputDescription } from './output-fields.js';
import { SI_SUFFIX } from './limits.js';
import { toGot } from './problem.js';

export const CALCULATIONS: readonly Calculation[] = [
  ...pressureEntries,
  ...gaugeEntries,
  ...fluidEntries,
  ...stiffnessEntries,
  ...cuttingEntries,
  ...electricalEntries,
  ...countEntries,
  ...transientEntries,
  ...holdingEntries,
  ...interlockEntries,
];

const BY_ID: ReadonlyMap<string, Calculation> = new Map(CALCULATIONS.map((entry) => [entry.id, entry]));

/** A calculation as plain JSON: what forms, schemas, pages and documentation are made from. */
export interface CalculationDescription {
  id: string;
  title: string;
  group: CalculationGroup;
  summary: string;
  inputs: Readonly<Record<string, FieldDescription>>;
  /** inputs of which one set is given and no other */
  alternatives: readonly Alternatives[];
  outputs: Readonly<Record<string, OutputDescription>>;
  formula: readonly string[];
  method: readonly string[];
  assumes: string;
  range: string;
  cautions: readonly CautionCode[];
  sources: readonly string[];
  needsSolver: boolean;
}

export function findCalculation(id: string): Calculation | null {
  return BY_ID.get(id) ?? null;
}

type Symbols = Readonly<Record<string, { symbol: string; meaning: string }>>;

function addInputTexts(
  described: Readonly<Record<string, FieldDescription>>,
  fields: InputFields,
  symbols: Symbols,
): Record<string, FieldDescription> {
  return Object.fromEntries(
    Object.entries(fields).map(([name, { suffix, children }]) => {
      const field = described[name] as FieldDescription;
      return [
        name,
        {
          ...field,
          ...symbols[`${name}${suffix}`],
          ...(field.fields && children ? { fields: addInputTexts(field.fields, children, symbols) } : {}),
        },
      ];
    }),
  );
}

function addOutputTexts(
  described: Readonly<Record<string, OutputDescription>>,
  symbols: Symbols,
): Record<string, OutputDescription> {
  return Object.fromEntries(
    Object.entries(described).map(([name, field]) => [
      name,
      {
        ...field,
        ...symbols[`${name}${field.kind ? SI_SUFFIX[field.kind] : ''}`],
        ...(field.fields ? { fields: addOutputTexts(field.fields, symbols) } : {}),
      },
    ]),
  );
}

export function describeCalculation(entry: Calculation): CalculationDescription {
  const doc = DOCS[entry.id];
  if (!doc) throw new Error(`no docstring for ${entry.id}: run scripts/extract-docs.mjs`);
  const { symbols, summary, formula, method, assumes, range, sources } = doc;
  return {
    id: entry.id,
    title: entry.title,
    group: entry.group,
    summary,
    inputs: addInputTexts(entry.describeInputs(), entry.inputs, symbols),
    alternatives: entry.alternatives,
    outputs: addOutputTexts(entry.describeOutputs(), symbols),
    formula,
    method,
    assumes,
    range,
    cautions: entry.cautions,
    sources,
    needsSolver: entry.needsSolver,
  };
}

export function describeRegistry(): CalculationDescription[] {
  return CALCULATIONS.map(describeCalculation);
}

/**
 * Runs a calculation on wire JSON: `{ result }` with quantities as `{ value, unit }` and `notes`, or `{ problem }`.
 * Synchronous and pure. Entries with `needsSolver` must be handed a loaded `tools.solver`.
 */
export function calculate(id: string, inputs: unknown, tools: CalculationTools = {}): RunResult {
  const entry = BY_ID.get(id);
  if (entry) return entry.run(inputs, tools);
  const problem = { field: 'id', got: toGot(id), needs: 'the id of a calculation', code: 'unknown-id' } as const;
  return { problem, problems: [problem] };
}
