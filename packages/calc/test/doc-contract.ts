import { pathToFileURL } from 'node:url';
import { evaluate, parse } from 'mathjs';
import { readDocs, readSymbol, type DocumentedFunction } from '../scripts/doc-parser.mjs';
import { loadSolver } from '../src/holding/load-solver.js';
import { SI_SUFFIX } from '../src/registry/limits.js';

const REQUIRED = ['assumes', 'range', 'throws', 'example', 'source'];

/** unit in the comment → ending of the name; a plain number has none */
const ENDINGS: Record<string, string> = {
  Pa: SI_SUFFIX.pressure,
  m: SI_SUFFIX.length,
  m2: SI_SUFFIX.area,
  m3: SI_SUFFIX.volume,
  N: SI_SUFFIX.force,
  'm3/s': SI_SUFFIX.flow,
  s: SI_SUFFIX.time,
  K: SI_SUFFIX.temperature,
  'm/s': SI_SUFFIX.speed,
  kg: SI_SUFFIX.mass,
  'kg/m3': SI_SUFFIX.density,
  'm2/s': SI_SUFFIX['kinematic-viscosity'],
  W: SI_SUFFIX.power,
  J: SI_SUFFIX.energy,
  'N.m': SI_SUFFIX.torque,
  rad: SI_SUFFIX.angle,
  Hz: SI_SUFFIX.frequency,
  '1/s': SI_SUFFIX.rate,
  Ohm: SI_SUFFIX.resistance,
  V: SI_SUFFIX.voltage,
  A: SI_SUFFIX.current,
  H: SI_SUFFIX.inductance,
  'N/m': SI_SUFFIX.stiffness,
  'N.s/m': SI_SUFFIX.damping,
  'Pa.s/m3': SI_SUFFIX['hydraulic-resistance'],
  'Pa/s': SI_SUFFIX['pressure-rate'],
  '1/K': SI_SUFFIX['thermal-expansion'],
  '1/m3': SI_SUFFIX['particle-concentration'],
};
const UNIT_ENDINGS = [...new Set(Object.values(ENDINGS))].sort((a, b) => b.length - a.length);

type Scope = Record<string, unknown>;

/** `out` compares to 1e-9; `near 1e-5` to the tolerance given, for methods whose own error is larger. */
function readTolerance(text: string): number {
  return Number(/^\s*near\s+(\S+)/m.exec(text)?.[1] ?? 1e-9);
}

function readValues(text: string, key: 'in' | '(?:out|near \\S+)'): Scope {
  const line = new RegExp(`^\\s*${key}\\s+(.+)$`, 'm').exec(text)?.[1]?.trim() ?? '';
  if (line.startsWith('{')) return JSON.parse(line) as Scope;
  return Object.fromEntries([...line.matchAll(/(\w+)=(\S+)/g)].map((hit) => [String(hit[1]), Number(hit[2])]));
}

function isClose(a: unknown, b: unknown, tolerance = 1e-9): boolean {
  if (typeof a !== 'number' || typeof b !== 'number') return JSON.stringify(a) === JSON.stringify(b);
  return Math.abs(a - b) <= tolerance * Math.max(Math.abs(a), Math.abs(b)) || Math.abs(a - b) < 1e-300;
}

function checkNames(interfaces: ReturnType<typeof readDocs>['interfaces'], say: (text: string) => void): void {
  for (const fields of Object.values(interfaces)) {
    for (const [name, { comment, isNumber }] of Object.entries(fields)) {
      const ending = UNIT_ENDINGS.find((unit) => unit !== '' && new RegExp(`[a-z0-9]${unit}$`).test(name));
      if (!isNumber || !ending) continue;
      const parts = readSymbol(comment);
      if (!parts) say(`${name}: comment must read "symbol: meaning [unit], limit"`);
      else if (ENDINGS[parts.unit] !== ending) say(`${name}: comment says ${parts.unit}, the name ends in ${ending}`);
    }
  }
}

/** Symbols and names of given and found fields, for the formula lines. */
function toScope(values: Scope, comments: Readonly<Record<string, { comment: string | undefined }>>): Scope {
  const scope: Scope = {};
  for (const [name, value] of Object.entries(values)) {
    scope[name] = value;
    const symbol = readSymbol(comments[name]?.comment)?.symbol;
    if (symbol !== undefined) scope[symbol] = value;
  }
  return scope;
}

function checkFormula(line: string, scope: Scope, found: Scope, where: string, say: (text: string) => void): void {
  const at = line.search(/(?<![=<>!])=(?!=)/);
  const left = line.slice(0, at).trim();
  const right = line.slice(at + 1).trim();
  const value: unknown = evaluate(right, scope);
  if (parse(left).type === 'SymbolNode' && !(left in scope)) {
    scope[left] = value;
    return;
  }
  const ours: unknown = left in found ? found[left] : evaluate(left, scope);
  // An output that is left out (its optional input is missing) has nothing to be compared with.
  if (ours !== undefined && !isClose(ours, value))
    say(`${where}: formula line "${line}" gives ${String(value)}, code gives ${String(ours)}`);
}

async function checkExample(
  fn: (input: unknown) => Scope,
  documented: DocumentedFunction,
  text: string,
  comments: Readonly<Record<string, { comment: string | undefined }>>,
  say: (text: string) => void,
): Promise<void> {
  const label = text.split('\n')[0]?.trim() ?? '';
  const where = `${documented.name} example ${label}`;
  const given = readValues(text, 'in');
  const found = fn('solver' in comments ? { ...given, solver: await loadSolver() } : given);
  const wanted = readValues(text, '(?:out|near \\S+)');
  if (Object.keys(wanted).length === 0) say(`${where}: compares nothing`);
  for (const [name, value] of Object.entries(wanted)) {
    if (!isClose(found[name], value, readTolerance(text)))
      say(`${where}: ${name} is ${JSON.stringify(found[name])}, text says ${JSON.stringify(value)}`);
  }
  const scope = { ...toScope(given, comments), ...toScope(found, comments) };
  const lines = (tag: string): string[] =>
    documented.tags.filter(({ name }) => name === tag).flatMap((entry) => entry.text.split('\n'));
  for (const line of lines('formula').filter((entry) => entry.trim() !== '')) {
    checkFormula(line.trim(), scope, found, where, say);
  }
  for (const line of lines('residual').filter((entry) => entry.trim() !== '')) {
    const rest: unknown = evaluate(line, scope);
    const size = Math.max(
      1,
      ...Object.values(found)
        .filter((value) => typeof value === 'number')
        .map(Math.abs),
    );
    if (typeof rest !== 'number' || !(Math.abs(rest) <= 1e-9 * size))
      say(`${where}: residual "${line.trim()}" is ${String(rest)}`);
  }
}

/** What is wrong with the documentation of the calculation in a file; empty when it holds. */
export async function checkDocs(file: string): Promise<string[]> {
  const problems: string[] = [];
  const say = (text: string): void => void problems.push(text);
  const { interfaces, functions } = readDocs(file);
  checkNames(interfaces, say);
  const documented = functions.find(({ tags }) => tags.some(({ name }) => name === 'source'));
  if (!documented) return [...problems, 'no documented function'];
  for (const tag of REQUIRED) {
    if (!documented.tags.some(({ name }) => name === tag)) say(`${documented.name}: @${tag} is missing`);
  }
  const has = (tag: string): boolean => documented.tags.some(({ name }) => name === tag);
  if (!has('formula') && !(has('method') && has('residual')))
    say(`${documented.name}: needs @formula, or @method and @residual`);
  if (documented.parameterCount !== 1)
    say(`${documented.name}: takes ${documented.parameterCount} parameters, must take one object`);
  const input = interfaces[documented.inputType];
  const result = interfaces[documented.resultType];
  if (!input || !result)
    return [...problems, `${documented.name}: needs an input and a result interface in the same file`];
  const module: Record<string, unknown> = await import(pathToFileURL(file).href);
  const fn = module[documented.name];
  if (typeof fn !== 'function') return [...problems, `${documented.name}: not exported`];
  for (const { text } of documented.tags.filter(({ name }) => name === 'example')) {
    await checkExample((given) => fn(given) as Scope, documented, text, { ...input, ...result }, say);
  }
  return problems;
}
