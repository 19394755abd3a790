import type { MessageKey } from './en';
import type { MessageElements } from './elements';
import { toPseudo } from './pseudo';

export type Catalogue = Readonly<Record<MessageKey, string>>;

const loadDefault = (): Promise<Catalogue> => import('./en').then((file) => file.en);

interface Language {
  /** how the platform writes its numbers, dates and plurals */
  tag: string;
  load: () => Promise<Catalogue>;
  /**
   * What stands between thousands, where the platform writes whole numbers with plain digits and that. Then they are written here: the
   * platform's own way takes a phone a tenth of a second the first time, and most pages say a number or two.
   */
  thousands?: string;
  /** Which form counts take, and what stands between things one after the other, where a word says it: to ask the platform takes as long. */
  toPlural?: (count: number) => Intl.LDMLPluralRule;
  between?: string;
  /** changes every sentence of the catalogue */
  alter?: (message: MessageElements) => MessageElements;
}

const ENGLISH = {
  thousands: ',',
  toPlural: (count: number) => (Math.abs(count) === 1 ? 'one' : 'other'),
  between: ', ',
} as const;

/** The language of whoever asks for none that is here. Nothing else names a language. */
export const DEFAULT_LOCALE = 'en';

/**
 * Every language. Another one is a folder beside `en` and an entry `{ tag, load: () => import('./XX').then((file) => file.XX) }`:
 * a browser fetches it only when it is read.
 */
export const LANGUAGES = {
  en: { tag: 'en-GB', load: loadDefault, ...ENGLISH },
  pseudo: { tag: 'en', load: loadDefault, ...ENGLISH, alter: toPseudo },
} satisfies Readonly<Record<string, Language>>;

export type Locale = keyof typeof LANGUAGES;

export const findLanguage = (locale: Locale): Language => LANGUAGES[locale];

/** What the language of this tag says of itself; where it says nothing, only the platform knows. */
export const findByTag = (tag: string): Pick<Language, 'thousands' | 'toPlural' | 'between'> =>
  Object.values<Language>(LANGUAGES).find((language) => language.tag === tag) ?? {};
