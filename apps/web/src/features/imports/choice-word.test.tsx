import { IMPORT_FIELDS } from '@repo/contracts';
import { catchTranslator } from '@/lib/i18n/catch-translator';
import { findChoiceWord, toChoiceWords } from './choice-word';

/** The translator that pages get. */
const t = catchTranslator();

/** A class of a gauge is a number, and is called so. */
const inWords = IMPORT_FIELDS.flatMap(({ key, choices = [] }) =>
  choices.filter((choice) => /[a-z]/.test(choice)).map((choice) => [key, choice] as const),
);

describe('a choice that a file holds', () => {
  it('is there for many fields', () => expect(inWords.length).toBeGreaterThan(60));

  it.each(inWords)('%s, %s: has the word of its form', (key, choice) => {
    expect(findChoiceWord(t, key, choice)).toEqual(expect.stringMatching(/^[^{}]+$/));
  });

  it('is said in the words of the form, one by one, and anything else as it is', () => {
    expect(toChoiceWords(t, 'machine.wayIn', 'rotary-union')).not.toContain('-');
    expect(toChoiceWords(t, 'installed-component.lineFunctions', 'supply, clamp')).toBe('supply line (P), clamp line');
    expect(toChoiceWords(t, 'setup-record.gaugeClass', '1.6')).toBe('1.6');
    expect(toChoiceWords(t, 'customer.name', 'rotary-union')).toBe('rotary-union');
  });
});
