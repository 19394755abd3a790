import type { MessageKey } from './en';
import type { MessageElements } from './elements';
import { toPseudo } from './pseudo';

export type Catalogue = Readonly<Record<MessageKey, string>>;

const loadDefault = (): Promise<Catalogue> => import('./en').then((file) => file.en);

interface Language {
  /** how the platform writes its numbers, dates and plurals */
  tag: string;
  load: () => Promise<Catalogue>;
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
  en: { tag: 'en-GB', load: loadDefault },
  pseudo: { tag: 'en', load: loadDefault, alter: toPseudo },
} satisfies Readonly<Record<string, Language>>;

export type Locale = keyof typeof LANGUAGES;

export const findLanguage = (locale: Locale): Language => LANGUAGES[locale];
