import { readdirSync, readFileSync } from 'node:fs';
import { CHECK_CODES, CHECKS, listReasons } from '@repo/calc/checks';
import {
  CIRCUIT_FIGURES,
  ELEMENT_FIGURES,
  FIXTURE_FIGURES,
  MACHINE_CONTROL,
  MACHINE_MAKE,
  MACHINE_SUPPLY,
  POWER_UNIT_FIGURES,
  type Figures,
} from '@repo/calc/figures';
import { COMPONENT_FIGURES, statusSchema } from '@repo/contracts';
import { en } from './en';
import {
  beginsWith,
  DEFAULT_LOCALE,
  findSentence,
  isLoaded,
  isMessageKey,
  loadLanguage,
  speakWhole,
  toList,
  toMessage,
} from './index';
import { findLanguage, LANGUAGES, type Locale } from './languages';
import { countLetters } from './pseudo';
import { parseSentence, saySentence } from './sentences';

speakWhole(en);
const keys = Object.keys(en).filter(isMessageKey);
const locales = Object.keys(LANGUAGES) as Locale[];

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

  it('has a name for every kind of component and every figure of one', () => {
    for (const [kind, figures] of Object.entries(COMPONENT_FIGURES)) {
      for (const name of [
        `componentKind.${kind}`,
        ...Object.keys(figures).map((figure) => `componentFigure.${figure}`),
      ]) {
        expect(keys).toContain(name);
      }
    }
  });

  it('has a label for every figure of a record, and a word for each of its choices', () => {
    const tables: readonly [string, Figures][] = [
      ['circuit', CIRCUIT_FIGURES],
      ['powerUnit', POWER_UNIT_FIGURES],
      ['machine.form', { ...MACHINE_MAKE, ...MACHINE_CONTROL }],
      ['control', MACHINE_SUPPLY],
      ['fixtures', FIXTURE_FIGURES],
      ['fixtureElement', ELEMENT_FIGURES],
    ];
    for (const [prefix, figures] of tables) {
      for (const [name, figure] of Object.entries(figures)) {
        expect(keys).toContain(`${prefix}.${name}`);
        const choices = figure.type === 'choice' ? figure.choices : [];
        for (const choice of choices) expect(keys).toContain(`${prefix}.${name}.${choice}`);
      }
    }
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

  it('fills parameters in, and leaves one that is not given where it is seen', () => {
    expect(toMessage('en', 'fleet.title.need', { count: 6, total: 74 })).toBe('6 of 74 circuits need you');
    expect(toMessage('en', 'fleet.title.need', { count: 6 })).toBe('6 of {total} circuits need you');
    expect(toMessage('en', 'fleet.title.need')).toBe('{count}');
  });

  it('takes the form and writes the number as the language does', () => {
    const say = (count: number): string => toMessage('en', 'fleet.shown', { count });
    expect([0, 1, 2].map(say)).toEqual(['0 circuits shown', '1 circuit shown', '2 circuits shown']);
    expect(say(12_345)).toBe('12,345 circuits shown');
    const forms = '{count, plural, one {# deska} few {# desky} other {# desek}}';
    const { format } = parseSentence(forms, 'cs-CZ');
    expect([1, 3, 12_345].map((count) => format.format({ count }))).toEqual([
      '1 deska',
      '3 desky',
      '12\u00a0345 desek',
    ]);
  });

  it.each(locales)('writes whole numbers in %s as the platform does', (locale) => {
    const { tag } = findLanguage(locale);
    const { format } = parseSentence('{count, number}', tag);
    const platform = new Intl.NumberFormat(tag);
    const whole = Array.from({ length: 16 }, (_, digits) => 10 ** digits).flatMap((one) => [
      one - 1,
      one,
      one + 7,
      -one,
    ]);
    for (const count of [...whole, -0, 0.5, 1234.5678, 2 ** 53, NaN, Infinity]) {
      expect(format.format({ count })).toBe(platform.format(count));
    }
  });

  it('asks the platform for nothing that takes long to fetch, where a message holds words and whole numbers', () => {
    const asked: string[] = [];
    const names = ['NumberFormat', 'DateTimeFormat', 'ListFormat', 'PluralRules'] as const;
    const real = new Map(names.map((name) => [name, Object.getOwnPropertyDescriptor(Intl, name)]));
    for (const name of names) {
      const heard = new Proxy(Intl[name], {
        construct: (target, given, self) => {
          asked.push(name);
          return Reflect.construct(target, given, self) as object;
        },
        get: (target, property) => {
          asked.push(`${name}.${String(property)}`);
          return Reflect.get(target, property) as unknown;
        },
      });
      Object.defineProperty(Intl, name, { value: heard, configurable: true });
    }
    try {
      const forms = '{count, plural, one {# circuit} other {# of {total, number} circuits}}';
      const { format } = parseSentence(forms, 'en-GB');
      expect(format.format({ count: 3_000, total: 100_000 })).toBe('3,000 of 100,000 circuits');
      expect(toMessage('en', 'nav.fleet')).toBe(en['nav.fleet']);
      expect(toList('en', ['one', 'two'])).toBe('one, two');
      expect(asked).toEqual([]);
    } finally {
      for (const [name, was] of real) if (was !== undefined) Object.defineProperty(Intl, name, was);
    }
  });

  it('counts in the forms and strings things as the platform does', () => {
    const forms = '{count, plural, one {one} other {other}}';
    const rules = new Intl.PluralRules('en-GB');
    const { format } = parseSentence(forms, 'en-GB');
    for (const count of [0, 1, 2, 11, 21, 101, -1, -2, 0.5, 1.5, -0, 2 ** 53]) {
      expect([count, format.format({ count })]).toEqual([count, rules.select(count)]);
    }
    const ranks = '{count, selectordinal, one {#st} two {#nd} few {#rd} other {#th}}';
    expect(parseSentence(ranks, 'en-GB').format.format({ count: 22 })).toBe('22nd');
    const platform = new Intl.ListFormat('en-GB', { type: 'unit', style: 'short' });
    for (const things of [[], ['a'], ['a', 'b'], ['a', 'b, c', 'd'], ['a', 'b', 'c', 'd']]) {
      expect(toList('en', things)).toBe(platform.format(things));
    }
  });

  it('knows what a message begins with, without saying it', () => {
    for (const key of keys) {
      const name = /^\{(\w+)\}/.exec(en[key])?.[1];
      expect([key, beginsWith('en', key, name ?? 'subject')]).toEqual([key, name !== undefined]);
    }
  });

  it('says a message that is words alone as it is written, and reads every other', () => {
    const asRead = keys.map((key) => saySentence(findSentence('en', key), 'en-GB', {}).join(''));
    expect(keys.map((key) => toMessage('en', key))).toEqual(asRead);
  });

  it('refuses a message that cannot be read', () => {
    expect(() => parseSentence('{count, plural, one {# circuit}}', 'en')).toThrow();
    expect(() => parseSentence('{count', 'en')).toThrow();
  });
});

describe.each(locales)('the language %s', (locale) => {
  beforeAll(() => loadLanguage(locale));

  it('is read in full, with the parameters of the default one', () => {
    expect(isLoaded(locale)).toBe(true);
    for (const key of keys) {
      const { parameters } = findSentence(locale, key);
      expect([key, [...parameters].sort()]).toEqual([key, [...findSentence(DEFAULT_LOCALE, key).parameters].sort()]);
    }
  });

  it('says no key that the default one does not have', async () => {
    expect(Object.keys(await findLanguage(locale).load()).sort()).toEqual([...keys].sort());
  });

  it('parses a message once', () => {
    expect(findSentence(locale, 'fleet.shown')).toBe(findSentence(locale, 'fleet.shown'));
  });
});

describe('the pseudo-language', () => {
  it('accents every word, in every form, and is at least 40 % longer', () => {
    for (const key of keys) {
      const [plain, pseudo] = [findSentence('en', key), findSentence('pseudo', key)];
      expect(countLetters(pseudo.message)).toBeGreaterThanOrEqual(Math.floor(countLetters(plain.message) * 1.4));
    }
    expect(toMessage('pseudo', 'fleet.shown', { count: 2 })).toBe('[2 çîŕçüîţš šhöwñ······]');
  });
});

describe('English', () => {
  it('shouts nowhere and writes no exclamation', () => {
    for (const key of keys) expect(en[key]).not.toContain('!');
  });
});
