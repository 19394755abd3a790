import { existsSync, readFileSync, statSync } from 'node:fs';
import path from 'node:path';
import { en } from './en';
import { entryMessages } from './en/entry';

const SRC = path.resolve(import.meta.dirname, '..');
/** What is drawn before somebody is signed in, and around everything. */
const ENTRIES = [
  ...['sign-in', 'address', 'forgotten-password', 'invitation', 'new-password', 'provider-sign-in'].map(
    (name) => `${name}/page`,
  ),
  ...['layout', 'page', 'error', 'global-error', 'not-found'],
];
const IMPORT = /(?:import|export)\s+(type\s)?(?:\{([^}]*)\}|[^'{]*?)\s*from\s+'([^']+)'/g;

const findFile = (stem: string): string | undefined =>
  ['.ts', '.tsx', '/index.ts'].map((end) => stem + end).find((file) => existsSync(file) && statSync(file).isFile());

/** Files that a file brings with it; of a feature's index only those that hold what is asked for. */
function reach(file: string, asked: readonly string[] | null, seen: Set<string>): void {
  const isIndex = path.basename(file) === 'index.ts';
  if (!isIndex && seen.has(file)) return;
  if (!isIndex) seen.add(file);
  for (const [, type, names, target = ''] of readFileSync(file, 'utf8').matchAll(IMPORT)) {
    const wanted = (names ?? '').split(',').map((name) => name.trim());
    const isAsked = !isIndex || asked === null || wanted.some((name) => asked.includes(name));
    const stem = target.startsWith('@/') ? path.join(SRC, target.slice(2)) : path.join(path.dirname(file), target);
    const found = target.startsWith('@/') || target.startsWith('.') ? findFile(stem) : undefined;
    if (type === undefined && isAsked && found !== undefined) reach(found, wanted, seen);
  }
}

describe('the words of the pages before the sign-in', () => {
  it('are all among those that come with them', () => {
    const files = new Set<string>();
    for (const entry of ENTRIES) reach(findFile(path.join(SRC, 'app', entry)) ?? '', null, files);
    const spoken = [...files]
      .filter((file) => !file.includes(`${path.sep}messages${path.sep}`))
      .flatMap((file) =>
        [...readFileSync(file, 'utf8').matchAll(/'([\w-]+(?:\.[\w-]+)+)'/g)].map(([, key]) => key ?? ''),
      )
      .filter((key) => Object.hasOwn(en, key));
    expect(spoken.length).toBeGreaterThan(80);
    expect(spoken).toContain('signIn.title');
    expect([...new Set(spoken)].filter((key) => !Object.hasOwn(entryMessages, key))).toEqual([]);
  });

  it('hold what is made from a code: roles, problems, faults of fields', () => {
    const made = Object.keys(en).filter((key) =>
      /^(?:role|fieldProblem|fieldRule|problem\.(?:request|session|client|service|provider|link|membership))\./.test(
        key,
      ),
    );
    expect(made.length).toBeGreaterThan(60);
    expect(made.filter((key) => !Object.hasOwn(entryMessages, key))).toEqual([]);
  });

  it('are few', () => {
    expect(Object.keys(entryMessages).length).toBeLessThan(Object.keys(en).length / 3);
  });
});
