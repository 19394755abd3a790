import { readdirSync, readFileSync } from 'node:fs';
import { CHECK_CODES, CHECKS, listReasons } from '@repo/calc/checks';
import { statusSchema } from '@repo/contracts';
import { en } from './en';
import { getPlural, isMessageKey, toMessage, toPseudo } from './index';

const keys = Object.keys(en).filter(isMessageKey);
const listParameters = (text: string): string[] =>
  [...text.matchAll(/\{(\w+)\}/g)].map(([, name]) => String(name)).sort();

/** Of any check: it holds, or something is missing; the sentence then goes by the status. */
const OF_ANY = ['within', 'missing'];

const CALC = new URL('../../../../packages/calc/src/', import.meta.url);

describe('messages', () => {
  it('has a sentence for every reason of every check', () => {
    for (const code of CHECK_CODES) {
      for (const word of [...listReasons(code), 'holds', 'name', 'formula', 'subject']) {
        expect(keys).toContain(`check.${code}.${word}`);
      }
    }
    for (const status of statusSchema.options) expect(keys).toContain(`check.any.${status}`);
  });

  it('says of each part of a check why it does not hold', () => {
    const ofParts = CHECK_CODES.filter((code) => 'hasParts' in CHECKS[code]);
    const reasons = ofParts.flatMap(listReasons).filter((reason) => reason !== 'nothing-to-order');
    for (const reason of [...OF_ANY, ...reasons]) expect(keys).toContain(`check.part.${reason}`);
  });

  it('has words for every note that a calculation gives', () => {
    const sources = readdirSync(CALC, { recursive: true, encoding: 'utf8' }).filter(
      (file) => file.endsWith('.ts') && !file.endsWith('.test.ts') && !file.startsWith('registry'),
    );
    const codes = sources.flatMap((file) => {
      const text = readFileSync(new URL(file, CALC), 'utf8');
      return [...text.matchAll(/\{ code: '([a-z0-9-]+)'/g)].map(([, code]) => String(code));
    });
    expect(codes.length).toBeGreaterThan(20);
    for (const code of codes) if (!(code in CHECKS)) expect(keys).toContain(`calculationNote.${code}`);
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
