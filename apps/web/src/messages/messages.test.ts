import { readdirSync, readFileSync } from 'node:fs';
import { en } from './en';
import { getPlural, isMessageKey, toMessage, toPseudo } from './index';

const keys = Object.keys(en).filter(isMessageKey);
const listParameters = (text: string): string[] =>
  [...text.matchAll(/\{(\w+)\}/g)].map(([, name]) => String(name)).sort();

/** Every reason that the pressure ladder gives for each check: a page that has no words for one would show the wrong sentence. */
const REASONS = {
  'holds-workpiece': ['below-required', 'inside-margin', 'gauge-error-decides'],
  'no-nuisance-stop': ['set-point-above-setting', 'inside-margin', 'gauge-error-decides'],
  'setting-within-rating': ['above-rating', 'inside-margin', 'gauge-error-decides'],
  'highest-within-rating': [
    'source-above-rating',
    'trapped-oil-above-rating',
    'intensified-above-rating',
    'relief-opens-below-setting',
    'inside-margin',
    'gauge-error-decides',
  ],
  'workpiece-limit': ['above-workpiece-limit', 'no-window', 'inside-margin', 'gauge-error-decides', 'not-limiting'],
} as const;

describe('messages', () => {
  it('has a sentence for every reason of every check', () => {
    for (const [check, reasons] of Object.entries(REASONS)) {
      for (const reason of reasons) expect(keys).toContain(`check.${check}.${reason}`);
      expect(keys).toContain(`check.${check}.name`);
      expect(keys).toContain(`check.${check}.formula`);
    }
  });

  it('has words for every note that a calculation gives', () => {
    const folder = new URL('../../../../packages/calc/src/', import.meta.url);
    const sources = readdirSync(folder, { recursive: true, encoding: 'utf8' }).filter(
      (file) => file.endsWith('.ts') && !file.endsWith('.test.ts') && !file.startsWith('registry'),
    );
    const codes = sources.flatMap((file) => {
      const text = readFileSync(new URL(file, folder), 'utf8');
      return [...text.matchAll(/\{ code: '([a-z0-9-]+)'/g)].map(([, code]) => String(code));
    });
    expect(codes.length).toBeGreaterThan(20);
    for (const code of codes) if (!(code in REASONS)) expect(keys).toContain(`calculationNote.${code}`);
  });

  it('has both forms of every message that counts, with the same parameters', () => {
    const ones = keys.filter((key) => key.endsWith('.one'));
    expect(ones.length).toBeGreaterThan(5);
    for (const one of ones) {
      const other = `${one.slice(0, -'.one'.length)}.other`;
      expect(keys).toContain(other);
      if (!isMessageKey(other)) continue;
      const allowed = listParameters(en[other]);
      for (const parameter of listParameters(en[one])) expect(allowed).toContain(parameter);
    }
  });

  it('fills parameters in, and leaves one that is not given where it is seen', () => {
    expect(toMessage('en', 'fleet.title.need.other', { count: 6, total: 74 })).toBe('6 of 74 circuits need you');
    expect(toMessage('en', 'fleet.title.need.other', { count: 6 })).toContain('{total}');
  });

  it('takes one and other by the rules of the language', () => {
    expect([0, 1, 2].map((count) => getPlural('en', count))).toEqual(['other', 'one', 'other']);
  });

  it('makes a pseudo-language that keeps every parameter and is at least 40 % longer', () => {
    for (const key of keys) {
      const pseudo = toPseudo(en[key]);
      expect(listParameters(pseudo)).toEqual(listParameters(en[key]));
      expect(pseudo.length).toBeGreaterThanOrEqual(Math.floor(en[key].replace(/\{\w+\}/g, '').length * 1.4));
    }
  });

  it('shouts nowhere and writes no exclamation', () => {
    for (const key of keys) expect(en[key]).not.toContain('!');
  });
});
