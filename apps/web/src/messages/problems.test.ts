import { readdirSync, readFileSync } from 'node:fs';
import { PROBLEM_CODES } from '@repo/contracts';
import { en } from './en';

const ROOT = new URL('../../../../', import.meta.url);

function readSources(folder: string): string[] {
  const url = new URL(`${folder}/`, ROOT);
  return readdirSync(url, { recursive: true, encoding: 'utf8' })
    .filter((file) => file.endsWith('.ts') && !/\.(test|d)\.ts$|generated/.test(file))
    .map((file) => readFileSync(new URL(file, url), 'utf8'));
}

function readUnion(file: string, name: string): string[] {
  const [, body = ''] =
    new RegExp(`export type ${name} =([^;]*);`).exec(readFileSync(new URL(file, ROOT), 'utf8')) ?? [];
  return [...body.matchAll(/'([a-z-]+)'/g)].map(([, word]) => String(word));
}

/** What a schema of the contracts can find wrong, as zod names it. */
const OF_SCHEMAS = [
  'invalid_type',
  'too_big',
  'too_small',
  'invalid_format',
  'not_multiple_of',
  'unrecognized_keys',
  'invalid_union',
  'invalid_key',
  'invalid_element',
  'invalid_value',
  'custom',
];

describe('what the service refuses', () => {
  it('has a sentence for every code that a problem can carry', () => {
    expect(Object.keys(PROBLEM_CODES).length).toBeGreaterThan(40);
    expect(Object.keys(PROBLEM_CODES).filter((code) => !Object.hasOwn(en, `problem.${code}`))).toEqual([]);
  });

  it('has a sentence for every rule that a field can break', () => {
    const ofCalculations = [
      ...readUnion('packages/calc/src/registry/problem.ts', 'ProblemCode'),
      ...readUnion('packages/calc/src/errors.ts', 'CalcErrorCode'),
    ];
    const ofContracts = readSources('packages/contracts/src').flatMap((text) =>
      [...text.matchAll(/params: \{ code: '([a-z-]+)'/g)].map(([, code]) => String(code)),
    );
    const ofServices = readSources('apps/api/src/modules').flatMap((text) =>
      [...text.matchAll(/invalidField\([^;]*, '([a-z-]+)'\);/g)].map(([, code]) => String(code)),
    );
    expect([ofCalculations.length > 20, ofContracts.length > 0, ofServices.length > 4]).toEqual([true, true, true]);
    const codes = new Set([...OF_SCHEMAS, ...ofCalculations, ...ofContracts, ...ofServices, 'rule']);
    expect([...codes].filter((code) => !Object.hasOwn(en, `fieldProblem.${code}`))).toEqual([]);
  });

  it('has a sentence for every field whose own rule is checked by a service', () => {
    const fields = readSources('apps/api/src/modules').flatMap((text) =>
      // Field, what was got, what is needed, and no code: the rule has no name but its field's.
      [...text.matchAll(/invalidField\('([a-zA-Z]+)', [^;']*?, (?:'[^']*'|"[^"]*"|`[^`]*`)\);/g)].map(([, field]) =>
        String(field),
      ),
    );
    expect(fields.length).toBeGreaterThan(10);
    expect(fields.filter((field) => !Object.hasOwn(en, `fieldRule.${field}`))).toEqual([]);
  });
});
