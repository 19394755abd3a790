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
  /** changes every sentence of the catalogue */
  alter?: (message: MessageElements) => MessageElements;
}

/** The language of whoever asks for none that is here. Nothing else names a language. */
export const DEFAULT_LOCALE = 'en';

/**
 * Every language. Another one is a folder beside `en` and an entry `{ tag, load: () => import('./XX').then((file) => file.XX) }`:
 * a browser fetches it only when it is read.
 */
export const LANGUAGES = {
  en: { tag: 'en-GB', load: loadDefault, thousands: ',' },
  pseudo: { tag: 'en', load: loadDefault, thousands: ',', alter: toPseudo },
} satisfies Readonly<Record<string, Language>>;

export type Locale = keyof typeof LANGUAGES;

export const findLanguage = (locale: Locale): Language => LANGUAGES[locale];

/** What stands between thousands in a language of this tag; undefined where only the platform knows. */
export const findThousands = (tag: string): string | undefined =>
  Object.values<Language>(LANGUAGES).find((language) => language.tag === tag)?.thousands;
