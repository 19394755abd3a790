import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import path from 'node:path';

const ROOT = path.join(import.meta.dirname, '../..');
const read = (file: string): string => readFileSync(path.join(ROOT, file), 'utf8');
const styles = execFileSync('git', ['ls-files', '--', 'apps/web/src/*.css'], { cwd: ROOT, encoding: 'utf8' })
  .split('\n')
  .filter((file) => file !== '')
  .map(read);
const takeAll = (text: string, pattern: RegExp): string[] =>
  [...text.matchAll(pattern)].map(([, name]) => String(name));
/** Set while the page runs, by the library that lays a list under its field. */
const SET_LATER = ['--trigger-width'];
const defined = new Set([...styles.flatMap((style) => takeAll(style, /(--[\w-]+)\s*:/g)), ...SET_LATER]);

describe('a custom property', () => {
  it('that a style takes is there: the browser would say nothing, and paint black or nothing', () => {
    // What a component sets on its element has a value to fall back to where it is taken.
    const taken = styles.flatMap((style) => takeAll(style, /var\((--[\w-]+)\)/g));
    expect(taken.length).toBeGreaterThan(100);
    expect([...new Set(taken)].filter((name) => !defined.has(name))).toEqual([]);
  });

  it('that a drawing takes from its page is there', () => {
    const [, names = ''] = /export type PaintName =([^;]+);/.exec(read('packages/drawing/src/svg/paint.ts')) ?? [];
    const taken = takeAll(names, /'([\w-]+)'/g).map((name) => `--${name}`);
    expect(taken.length).toBeGreaterThan(10);
    expect(taken.filter((name) => !defined.has(name))).toEqual([]);
  });
});
