import { execFileSync } from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { CHECK_CODES } from '@repo/calc/checks';

const ROOT = fileURLToPath(new URL('../../', import.meta.url));
/** Written by hand, without tests, and without the demonstration, whose stories name what fails in them. */
const BY_HAND = ['apps/*.ts', 'apps/*.tsx', 'packages/*.ts', ':!*.test.ts', ':!*.test.tsx', ':!packages/*/test/*'];
const WORDS = 'apps/web/src/messages/en/checks.ts';
const ENTRY = 'packages/calc/src/circuit-checks/checks.ts';
/** Its rule, and what mends it: a check that the way out knows nothing of is told as one that nothing mends. */
const RULES = ['circuit-checks', 'pressure-ladder', 'way-out'].map((folder) => `packages/calc/src/${folder}/`);

/** Codes that are the name of something else too: a rung, a calculation, a kind of component, a word. */
const NAMES_OF_OTHERS = ['workpiece-limit', 'clamping-time', 'reservoir', 'unclamping'];

const files = execFileSync('git', ['ls-files', '--', ...BY_HAND, ':!*.generated.ts'], { cwd: ROOT, encoding: 'utf8' })
  .split('\n')
  .filter((name) => name !== '')
  .map((name) => ({ name, text: fs.readFileSync(path.join(ROOT, name), 'utf8') }));

const listPlaces = (code: string): string[] =>
  files.filter(({ text }) => new RegExp(String.raw`\b${code}\b`).test(text)).map(({ name }) => name);

/** What has to be written for a check beside its rule. */
const listBesideRule = (code: string): string[] =>
  listPlaces(code).filter((name) => name === ENTRY || !RULES.some((folder) => name.startsWith(folder)));

describe('a check', () => {
  it.each(CHECK_CODES.filter((code) => !NAMES_OF_OTHERS.includes(code)))(
    '%s is its rule, its entry and its words, and nothing else',
    (code) => {
      expect(listBesideRule(code).sort()).toEqual([WORDS, ENTRY]);
      expect(listPlaces(code).length).toBeGreaterThan(2);
    },
  );

  it('that a contract, a page or the API knew by name would be counted', () => {
    const planted = ['packages/contracts/src/planted.ts', 'apps/web/src/planted.tsx', `${RULES[0]}planted.ts`];
    files.push(...planted.map((name) => ({ name, text: `if (check.code === 'planted-check') return;` })));
    expect(listBesideRule('planted-check')).toEqual(planted.slice(0, 2));
    files.splice(-planted.length);
  });
});
