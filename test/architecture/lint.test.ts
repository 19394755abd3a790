import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';

const ROOT = fileURLToPath(new URL('../../', import.meta.url));
const HELPER = fileURLToPath(new URL('support/lint-snippets.mjs', import.meta.url));

/** Files that exist: the types of a snippet come from the program that its file belongs to. */
const CALC = 'packages/calc/src/pressure-ladder/pressure-ladder.types.ts';
const CONTRACTS = 'packages/contracts/src/index.ts';
const API = 'apps/api/src/main.ts';
const MODULE = 'apps/api/src/modules/sites/sites.service.ts';
const TEST = 'test/architecture/lint.test.ts';
const DRILL = 'test/drill/run.mjs';

/** Assembled, so that this file does not break what it tests. */
const ONLY = `it${'.'}only`;
const SKIP = `describe${'.'}skip`;
const NOTE = `TO${'DO'}`;
const IGNORE = `@ts-${'ignore'}`;

interface Planted {
  what: string;
  rule: string;
  file: string;
  code: string;
}

const PLANTED: Planted[] = [
  {
    what: 'a field in bar',
    rule: 'no-restricted-syntax',
    file: CALC,
    code: 'export interface A { settingBar: number }',
  },
  {
    what: 'a field in millimetres',
    rule: 'no-restricted-syntax',
    file: CONTRACTS,
    code: 'export interface A { boreMm: number }',
  },
  { what: 'a variable in psi', rule: 'no-restricted-syntax', file: API, code: 'export const limitPsi = 3;' },
  {
    what: 'a calculation with two parameters',
    rule: 'no-restricted-syntax',
    file: CALC,
    code: 'export function force(input: ForceInput, areaM2: number): number { return input.pressurePa * areaM2; } interface ForceInput { pressurePa: number }',
  },
  {
    what: 'a clock in a calculation',
    rule: 'no-restricted-globals',
    file: CALC,
    code: 'export const now = Date.now();',
  },
  {
    what: 'the environment in a calculation',
    rule: 'no-restricted-globals',
    file: CALC,
    code: 'export const e = process;',
  },
  { what: 'printing from a calculation', rule: 'no-restricted-globals', file: CALC, code: `console.log('x');` },
  { what: 'a request from a calculation', rule: 'no-restricted-globals', file: CALC, code: `void fetch('x');` },
  {
    what: 'an any',
    rule: '@typescript-eslint/no-explicit-any',
    file: API,
    code: 'export const x = JSON.parse("1") as any;',
  },
  {
    what: 'a type check switched off',
    rule: '@typescript-eslint/ban-ts-comment',
    file: API,
    code: `// ${IGNORE}\nexport const x = 1;`,
  },
  {
    what: 'a promise nobody waits for',
    rule: '@typescript-eslint/no-floating-promises',
    file: API,
    code: 'Promise.resolve(1);',
  },
  { what: 'an empty catch', rule: 'no-empty', file: API, code: 'try { JSON.parse("1"); } catch { }' },
  { what: 'a forgotten note', rule: 'no-warning-comments', file: API, code: `// ${NOTE}: later\nexport const x = 1;` },
  {
    what: 'the environment read outside config',
    rule: 'no-restricted-properties',
    file: API,
    code: 'export const p = process.env;',
  },
  {
    what: 'a name that says nothing of what it holds',
    rule: 'no-restricted-syntax',
    file: CONTRACTS,
    code: 'export const longest = (texts: string[]): number => { const own = texts.map((one) => one.length); return Math.max(...own); };',
  },
  {
    what: 'a parameter that says nothing of what it holds',
    rule: 'no-restricted-syntax',
    file: CONTRACTS,
    code: 'export function count({ told }: { told: readonly string[] }): number { return told.length; }',
  },
  ...[API, MODULE, CALC, TEST].map((file) => ({
    what: `an empty name in ${file}`,
    rule: 'no-restricted-syntax',
    file,
    code: 'export function count(own: readonly string[]): number { return own.length; }',
  })),
  { what: 'printing from the API', rule: 'no-console', file: API, code: `console.log('x');` },
  { what: 'a test that runs alone', rule: 'no-restricted-syntax', file: TEST, code: `${ONLY}('a', () => undefined);` },
  {
    what: 'a test that does not run',
    rule: 'no-restricted-syntax',
    file: TEST,
    code: `${SKIP}('a', () => undefined);`,
  },
  {
    what: 'a sum that waits in its middle',
    rule: 'no-restricted-syntax',
    file: API,
    code: 'let n = 0; export const add = async (f: () => Promise<number>) => { n += await f(); return n; };',
  },
  {
    what: 'a sum that waits deeper in its middle',
    rule: 'no-restricted-syntax',
    file: TEST,
    code: 'let n = 0; export const add = async (f: () => Promise<number>) => { n += 1 + (await f()); return n; };',
  },
  {
    what: 'a count that is read before it waits, in a drill',
    rule: 'no-restricted-syntax',
    file: DRILL,
    code: 'let n = 0; export const add = async (f) => { n += await f(); return n; };',
  },
  ...[
    'Date.now = () => 0;',
    'globalThis.Date = class extends Date {};',
    "Object.defineProperty(Date, 'now', { value: () => 0 });",
    "jest.spyOn(Date, 'now').mockReturnValue(0);",
    'jest.useFakeTimers();',
    'jest.setSystemTime(0);',
  ].flatMap((code) => [
    { what: `a clock that is patched: ${code}`, rule: 'no-restricted-syntax', file: TEST, code },
    { what: `a clock that is patched in a drill: ${code}`, rule: 'no-restricted-syntax', file: DRILL, code },
  ]),
  {
    what: 'a text taken for a document',
    rule: 'no-restricted-syntax',
    file: MODULE,
    code: 'export const read = (text: string) => JSON.parse(text) as { format: string };',
  },
  {
    what: 'a column taken for a document',
    rule: 'no-restricted-syntax',
    file: MODULE,
    code: 'export const read = (site: { accessWindows: unknown }) => site.accessWindows as { weekday: number }[];',
  },
  {
    what: 'a column of plain SQL taken for a document',
    rule: 'no-restricted-syntax',
    file: MODULE,
    code: 'export const read = (one: { control_behaviour: unknown }) => one.control_behaviour as { latches: boolean };',
  },
  {
    what: 'a row taken at its word',
    rule: 'no-restricted-syntax',
    file: MODULE,
    code: `export const read = (row: { kind: string }) => row.kind as 'check' | 'alarm';`,
  },
  { what: 'a file that is too long', rule: 'max-lines', file: API, code: 'export {};\n'.repeat(451) },
  {
    what: 'a function that one screen does not show',
    rule: 'max-lines-per-function',
    file: API,
    code: `export const lines: number[] = [];\nexport function fill(): void {\n${'  lines.push(1);\n'.repeat(49)}}`,
  },
  {
    what: 'a rule switched off by a comment',
    rule: 'no-var',
    file: API,
    code: `/* eslint${'-'}disable no-var */\nvar x = 1;\nexport const y = x;`,
  },
];

const SOUND: { file: string; code: string }[] = [
  { file: CALC, code: 'export interface A { settingPa: number; boreM: number }' },
  { file: CALC, code: 'export function forceN(input: { pressurePa: number }): number { return input.pressurePa; }' },
  { file: API, code: 'export const barrier = 1;' },
  {
    file: API,
    code: `export const lines: number[] = [];\nexport function fill(): void {\n${'  lines.push(1);\n'.repeat(48)}}`,
  },
  { file: MODULE, code: 'export const read = (text: string): unknown => JSON.parse(text);' },
  { file: TEST, code: 'const fit = (x: number): number => x; export const y = fit(1);' },
  { file: TEST, code: `it('holds', () => { expect(1).toBe(1); });` },
];

function lint(snippets: { file: string; code: string }[]): string[][] {
  const input = JSON.stringify(snippets.map(({ file, code }) => ({ file, code })));
  // On a build machine the parser reads files from the disk and takes no notice of the text that it is given.
  const env = { ...process.env, TSESTREE_SINGLE_RUN: 'false' };
  const result = spawnSync(process.execPath, [HELPER], { cwd: ROOT, env, input, encoding: 'utf8' });
  if (result.status !== 0) throw new Error(result.stderr);
  return JSON.parse(result.stdout) as string[][];
}

describe('The lint rules', () => {
  let ofPlanted: string[][];
  let ofSound: string[][];
  beforeAll(() => {
    // In one go: reading the types of the whole project is what takes the time.
    const all = lint([...PLANTED, ...SOUND]);
    ofPlanted = all.slice(0, PLANTED.length);
    ofSound = all.slice(PLANTED.length);
  });

  it('report each planted violation, and it alone', () => {
    const found = ofPlanted.map((rules, index) => ({ what: PLANTED[index]?.what, rules: [...new Set(rules)] }));
    // The comment that would switch a rule off is reported beside what it would have hidden.
    const withoutNotice = found.map(({ what, rules }) => ({
      what,
      rules: rules.filter((rule) => !rule.includes('noInlineConfig')),
    }));
    expect(withoutNotice).toEqual(PLANTED.map(({ what, rule }) => ({ what, rules: [rule] })));
  });

  it('have nothing to say about what is right', () => {
    expect(ofSound).toEqual(SOUND.map(() => []));
  });
});
