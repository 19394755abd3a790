import { CalcInputError, type CalcNote } from '../errors.js';
import type { LinearProgramSolver } from '../holding/linear-program.js';
import { describeFields, readFields, type FieldDescription, type InputFields, type SiInput } from './input-fields.js';
import {
  describeOutputs,
  writeFields,
  type OutputDescription,
  type OutputFields,
  type SiOutput,
} from './output-fields.js';
import { Reading, toGot, type Problem } from './problem.js';

/** What one wants to know: the list of calculations is grouped by it. */
export type CalculationGroup =
  | 'cylinders-and-clamps'
  | 'pump-and-air'
  | 'strength'
  | 'setting-and-switch'
  | 'gauges'
  | 'lines-and-oil'
  | 'stiffness-and-trapped-oil'
  | 'accumulators'
  | 'clamping-time'
  | 'cutting-forces'
  | 'holding'
  | 'electrical'
  | 'interlock'
  | 'counts-and-life';

export type CautionCode =
  | 'judgement'
  | 'rated-pressure'
  | 'stored-energy'
  | 'oil-injection'
  | 'component-chart-wins'
  | 'safety-factor'
  | 'local-electrical-code'
  | 'not-a-safety-function'
  | 'trapped-pressure'
  | 'state-the-prior'
  | 'few-events';

/** What a calculation may be handed besides its inputs. */
export interface CalculationTools {
  /** needed by entries with `needsSolver`; loaded once by the caller, so that calculations stay pure and synchronous */
  solver?: LinearProgramSolver;
  /** told now and then which share of a long calculation is done */
  onProgress?: (share: number) => void;
}

export type RunResult =
  | { result: Record<string, unknown>; problem?: undefined; problems?: undefined }
  | { result?: undefined; problem: Problem; problems: readonly Problem[] };

/** Inputs of which one set is given and no other: exactly one (`one`), or at most one (`most`). */
export interface Alternatives {
  readonly kind: 'one' | 'most';
  readonly of: readonly (readonly string[])[];
}

export interface Calculation {
  readonly id: string;
  readonly title: string;
  readonly group: CalculationGroup;
  readonly cautions: readonly CautionCode[];
  readonly needsSolver: boolean;
  /** ends within 20 ms whatever it is given; what is not must not run where others wait */
  readonly isQuick: boolean;
  readonly inputs: InputFields;
  readonly alternatives: readonly Alternatives[];
  describeInputs(): Record<string, FieldDescription>;
  describeOutputs(): Record<string, OutputDescription>;
  run(raw: unknown, tools: CalculationTools): RunResult;
}

interface Definition<I extends InputFields, O extends OutputFields> {
  id: string;
  title: string;
  group: CalculationGroup;
  cautions: readonly CautionCode[];
  needsSolver?: true;
  /** its work grows with the size of a number, not only with the length of a list */
  isLong?: true;
  inputs: I;
  outputs: O;
  /** pairs of inputs of which exactly one (`one`) or at most one (`most`) may be given */
  alternatives?: readonly { kind: 'one' | 'most'; of: readonly (readonly (keyof I & string)[])[] }[];
  calculate: (input: SiInput<I>, tools: CalculationTools) => SiOutput<O> & { notes?: readonly CalcNote[] };
}

/** Work that does not grow: no list among the inputs, at any depth. */
const hasList = (fields: Readonly<Record<string, FieldDescription>>): boolean =>
  Object.values(fields).some(
    ({ type, fields: inner }) => /list$/.test(type) || (inner !== undefined && hasList(inner)),
  );

/** The wire path of an SI path: `cylinders[0].rodM` → `cylinders[0].rod`. */
function toWirePath(fields: InputFields, siPath: string): string {
  let level = fields;
  return siPath
    .split('.')
    .map((segment) => {
      const [name, index = ''] = segment.split(/(?=\[)/);
      const hit: [string, InputFields[string]] | undefined = Object.entries(level).find(
        ([wire, field]) => `${wire}${field.suffix}` === name,
      );
      level = hit?.[1].children ?? {};
      // A list of plain values is one input: its index says nothing that the sender could find.
      return hit ? `${hit[0]}${hit[1].children ? index : ''}` : segment;
    })
    .join('.');
}

function findRaw(raw: unknown, path: string): unknown {
  let at = raw;
  for (const key of path.split(/[.[\]]+/).filter((part) => part !== '')) {
    // What is no object has no such field: `Object` gives it an empty one.
    at = (Object(at) as Record<string, unknown>)[key];
  }
  return at;
}

function checkAlternatives<I extends InputFields, O extends OutputFields>(
  definition: Definition<I, O>,
  raw: Readonly<Record<string, unknown>>,
  reading: Reading,
): void {
  for (const { kind, of: group } of definition.alternatives ?? []) {
    const given = group.filter((names) => names.some((name) => raw[name] !== undefined));
    const needs = group.map((names) => names.join(' with ')).join(', or ');
    if (given.length > 1) {
      const fields = given.flatMap((names) => names.filter((name) => raw[name] !== undefined));
      reading.problems.push({
        field: String(fields[0]),
        fields,
        got: toGot(fields),
        needs: `one only: ${needs}`,
        code: 'alternatives',
      });
    } else if (given.length === 0 && kind === 'one') {
      reading.refuse(String(group[0]?.[0]), null, 'missing', needs);
    }
    for (const names of given.length === 1 ? given : []) {
      for (const name of names)
        if (raw[name] === undefined) reading.refuse(name, null, 'missing', `given together: ${names.join(' and ')}`);
    }
  }
}

/** Ties an id, wire names and units to a calculation function; the compiler refuses an entry that misses a field. */
export function defineCalculation<const I extends InputFields, const O extends OutputFields>(
  definition: Definition<I, O>,
): Calculation {
  const { id, title, group, cautions, inputs, outputs } = definition;
  const refuse = (problems: readonly Problem[]): RunResult => ({ problem: problems[0] as Problem, problems });
  return {
    id,
    title,
    group,
    cautions,
    inputs,
    alternatives: definition.alternatives ?? [],
    needsSolver: definition.needsSolver ?? false,
    isQuick: !definition.needsSolver && !definition.isLong && !hasList(describeFields(inputs)),
    describeInputs: () => describeFields(inputs),
    describeOutputs: () => describeOutputs(outputs),
    run(raw, tools) {
      const reading = new Reading();
      const input = readFields(inputs, raw, '', reading);
      if (typeof raw === 'object' && raw !== null)
        checkAlternatives(definition, raw as Record<string, unknown>, reading);
      if (!input || reading.problems.length > 0) return refuse(reading.problems);
      try {
        const result = definition.calculate(input as SiInput<I>, tools);
        const written = writeFields(outputs, result, '', reading);
        if (reading.problems.length > 0) return refuse(reading.problems);
        return { result: { ...written, notes: result.notes ?? [] } };
      } catch (error) {
        if (!(error instanceof CalcInputError)) throw error;
        const fields = error.fields.map((path) => toWirePath(inputs, path));
        const got =
          fields.length === 1 ? findRaw(raw, String(fields[0])) : fields.map((path) => findRaw(raw, path) ?? null);
        return refuse([
          {
            field: String(fields[0]),
            ...(fields.length > 1 ? { fields } : {}),
            got: toGot(got),
            needs: error.needs,
            code: error.code,
          },
        ]);
      }
    },
  };
}
