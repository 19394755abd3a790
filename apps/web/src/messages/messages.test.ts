import { readdirSync, readFileSync } from 'node:fs';
import { ladderCheckSchema, marginsSchema, statusSchema } from '@repo/contracts';
import { en } from './en';
import { DEFAULT_LOCALE, findSentence, isLoaded, isMessageKey, loadLanguage, toMessage } from './index';
import { findLanguage, LANGUAGES, type Locale } from './languages';
import { countLetters } from './pseudo';
import { parseSentence } from './sentences';

const keys = Object.keys(en).filter(isMessageKey);
const locales = Object.keys(LANGUAGES) as Locale[];

const CHECKS = ladderCheckSchema.shape.code.options;
type CheckCode = (typeof CHECKS)[number];

/** Every reason that a check gives when it does not simply hold: a page that has no words for one would show the wrong sentence. */
const REASONS: Record<CheckCode, readonly string[]> = {
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
  'shared-supply': ['other-station-pulls-down', 'restart-below-reset', 'inside-margin', 'gauge-error-decides'],
  'holds-without-supply': [
    'falls-below-required',
    'not-proved-again',
    'inside-margin',
    'gauge-error-decides',
    'always-supplied',
  ],
  'clamping-time': ['clamps-too-slowly', 'switch-before-contact', 'inside-margin'],
  unclamping: ['unclamps-too-slowly', 'open-not-proved', 'spring-too-weak', 'inside-margin'],
  // No margin is asked for: it holds or fails.
  'control-wiring': [
    'supply-too-small',
    'inrush-too-large',
    'voltage-at-coil',
    'duty-not-continuous',
    'no-suppression',
    'output-overvoltage',
    'polarity',
    'commons-not-separate',
    'protection-too-large',
    'insulation-too-low',
  ],
  'interlock-sound': ['signals-shared', 'rule-broken'],
  'order-and-speed': [
    'support-locks-late',
    'support-overloaded',
    'flow-too-high',
    'pressure-above-arm-chart',
    'inside-margin',
    'nothing-to-order',
  ],
  reservoir: ['reservoir-too-small', 'reservoir-overflows', 'inside-margin'],
};
/** Of any check: it holds, or something is missing; the sentence then goes by the status. */
const OF_ANY = ['within', 'missing'];

const CALC = new URL('../../../../packages/calc/src/', import.meta.url);

/** The words of a union of string literals, as the calculations declare it. */
function readUnion(file: string, name: string): string[] {
  const text = readFileSync(new URL(file, CALC), 'utf8').replace(/\/\/.*$/gm, '');
  const [, body = ''] = new RegExp(`export type ${name} =([^;]*);`).exec(text) ?? [];
  return [...body.matchAll(/'([a-z-]+)'/g)].map(([, word]) => String(word));
}

describe('messages', () => {
  it('has a sentence for every reason of every check', () => {
    expect(Object.keys(REASONS).sort()).toEqual([...CHECKS].sort());
    for (const check of CHECKS) {
      for (const word of [...REASONS[check], 'holds', 'name', 'formula', 'subject']) {
        expect(keys).toContain(`check.${check}.${word}`);
      }
    }
    // Where a margin is asked for, a check can lie inside it.
    const withMargin = CHECKS.filter((check) => REASONS[check].includes('inside-margin'));
    expect(withMargin.toSorted()).toEqual(Object.keys(marginsSchema.shape).toSorted());
    for (const status of statusSchema.options) expect(keys).toContain(`check.any.${status}`);
  });

  it('knows of every reason that the calculations declare which check gives it', () => {
    const ofParts = readUnion('circuit-checks/circuit-checks.types.ts', 'CircuitCheckReason');
    const ofLadder = readUnion('pressure-ladder/pressure-ladder.types.ts', 'LadderReason');
    expect([ofParts.length > 20, ofLadder.length > 10]).toEqual([true, true]);
    const declared = new Set([...ofParts, ...ofLadder]);
    expect([...declared].sort()).toEqual([...new Set([...OF_ANY, ...Object.values(REASONS).flat()])].sort());
  });

  it('says of each part of a check why it does not hold', () => {
    // These list their parts: clamps, wires, coils.
    const ofParts = ['clamping-time', 'unclamping', 'control-wiring', 'order-and-speed', 'reservoir'] as const;
    const reasons = ofParts.flatMap((check) => REASONS[check]).filter((reason) => reason !== 'nothing-to-order');
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
    for (const code of codes) if (!(code in REASONS)) expect(keys).toContain(`calculationNote.${code}`);
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
