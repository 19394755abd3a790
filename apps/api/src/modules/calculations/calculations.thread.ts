import { calculate, findCalculation, type CalculationTools } from '@repo/calc';
import { loadSolver } from '@repo/calc/solver';

export type Refusals = NonNullable<ReturnType<typeof calculate>['problems']>;
/** JSON of the result, or why there is none. */
export type Calculated = { json: Uint8Array } | { refusals: Refusals };

let tools: Promise<CalculationTools> | null = null;

/** One calculation of the registry, for the pool of threads. The solver is loaded when it is first asked for. */
export default async function calculateInThread({ id, inputs }: { id: string; inputs: unknown }): Promise<Calculated> {
  if (findCalculation(id)?.needsSolver === true) tools ??= loadSolver().then((solver) => ({ solver }));
  const { result, problems } = calculate(id, inputs, (await tools) ?? {});
  return problems === undefined ? { json: new TextEncoder().encode(JSON.stringify(result)) } : { refusals: problems };
}
