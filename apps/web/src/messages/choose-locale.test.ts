import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { DEFAULT_LOCALE } from './index';
import { chooseLocale } from './choose-locale';

const SOURCES = path.join(import.meta.dirname, '..');
/** The one file that names the default language and lists the others. */
const LANGUAGES = 'messages/languages.ts';
/** A tag of English between quotation marks. */
const NAMED = /(['"`])en(-[A-Z]{2})?\1/g;

describe('the language of a request', () => {
  it('is the one that its browser likes best among those that are here', () => {
    expect(chooseLocale('en-US,en;q=0.9')).toBe('en');
    expect(chooseLocale('xx, EN-gb;q=0.3')).toBe('en');
  });

  it('is nobody’s choice where no language that is here is named, or one is refused', () => {
    for (const header of [null, '', 'xx', 'xx;q=0.8, en;q=0', 'english', 'pseudo', ';q=1', 'en;q=high']) {
      expect(chooseLocale(header)).toBeNull();
    }
  });
});

describe('no file names a language by itself', () => {
  const files = readdirSync(SOURCES, { recursive: true, encoding: 'utf8' }).filter(
    (file) => /\.tsx?$/.test(file) && !/\.test\.tsx?$/.test(file),
  );
  const findNamed = (file: string): string[] => readFileSync(path.join(SOURCES, file), 'utf8').match(NAMED) ?? [];

  it('but the one that lists them', () => {
    expect(files.length).toBeGreaterThan(200);
    expect(files.filter((file) => findNamed(file).length > 0)).toEqual([LANGUAGES]);
    expect(DEFAULT_LOCALE).toBe('en');
  });
});
