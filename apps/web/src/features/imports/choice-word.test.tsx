import { IMPORT_FIELDS } from '@repo/contracts';
import { SearchParamsContext } from 'next/dist/shared/lib/hooks-client-context.shared-runtime';
import { renderToStaticMarkup } from 'react-dom/server';
import { LocaleProvider, useTranslate, type Translate } from '@/lib/i18n/i18n';
import { speakWhole } from '@/messages';
import { en } from '@/messages/en';
import { findChoiceWord, toChoiceWords } from './choice-word';

speakWhole(en);

/** The translator that pages get. */
const t = ((): Translate => {
  const found: Translate[] = [];
  const Catch = () => {
    found.push(useTranslate());
    return null;
  };
  renderToStaticMarkup(
    <SearchParamsContext value={new URLSearchParams()}>
      <LocaleProvider initial="en">
        <Catch />
      </LocaleProvider>
    </SearchParamsContext>,
  );
  const [translate] = found;
  if (translate === undefined) throw new Error('nothing was drawn');
  return translate;
})();

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
