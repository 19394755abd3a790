import type { MessageKey } from './en';
import { findParameter } from './elements';
import { entryMessages } from './en/entry';
import { DEFAULT_LOCALE, findLanguage, LANGUAGES, type Catalogue, type Locale } from './languages';
import { parseSentence, saySentence, type Sentence } from './sentences';

export type { Locale, MessageKey };
export { DEFAULT_LOCALE };
export type MessageParameters = Readonly<Record<string, string | number>>;

export const isLocale = (text: string | null | undefined): text is Locale =>
  typeof text === 'string' && Object.hasOwn(LANGUAGES, text);

export const toLanguageTag = (locale: Locale): string => findLanguage(locale).tag;

/** The language that a tag asks for, its region left out of account; null when it is not here. */
export function findSpokenLocale(tag: string): Locale | null {
  const wanted = tag.toLowerCase();
  const names = Object.keys(LANGUAGES).filter(isLocale);
  const real = names.filter((name) => findLanguage(name).alter === undefined);
  return (
    real.find((name) => name.toLowerCase() === wanted) ?? real.find((name) => name === wanted.split('-')[0]) ?? null
  );
}

/** The default language comes with the program: first what is said before somebody is signed in, with the pages inside the rest. */
let spoken: Partial<Catalogue> = entryMessages;

/** Gives the default language all its words. */
export function speakWhole(catalogue: Catalogue): void {
  spoken = catalogue;
}

/** Whether there are words for it where this runs. */
export const isMessageKey = (text: string): text is MessageKey => Object.hasOwn(spoken, text);

/** Other catalogues that are here, whole. */
const catalogues = new Map<Locale, Catalogue>();
const arriving = new Map<Locale, Promise<void>>();

export const isLoaded = (locale: Locale): boolean => locale === DEFAULT_LOCALE || catalogues.has(locale);

/** Brings a language's words here, once. */
export function loadLanguage(locale: Locale): Promise<void> {
  const known = arriving.get(locale);
  if (known !== undefined) return known;
  const begun = findLanguage(locale)
    .load()
    .then((catalogue) => void catalogues.set(locale, catalogue));
  arriving.set(locale, begun);
  return begun;
}

const sentences = new Map<Locale, Map<MessageKey, Sentence>>();

/** A message of a language, parsed when it is first said. */
export function findSentence(locale: Locale, key: MessageKey): Sentence {
  const ofLocale = sentences.get(locale) ?? new Map<MessageKey, Sentence>();
  const known = ofLocale.get(key);
  if (known !== undefined) return known;
  const { tag, alter } = findLanguage(locale);
  const sentence = parseSentence(catalogues.get(locale)?.[key] ?? spoken[key] ?? key, tag, alter);
  sentences.set(locale, ofLocale.set(key, sentence));
  return sentence;
}

/** The message with its parameters in it, in pieces where a parameter is no text; one that is not given stays visible. */
export const toPieces = <T>(
  locale: Locale,
  key: MessageKey,
  parameters: Readonly<Record<string, T | string | number>>,
): readonly (T | string)[] => saySentence(findSentence(locale, key), toLanguageTag(locale), parameters);

/** Where a message is its own words: nothing in it stands for anything else, nor is anything quoted. */
const isPlain = (text: string): boolean => !/[{}']/.test(text);

/** Whether what is given under this name begins the message. */
export function beginsWith(locale: Locale, key: MessageKey, name: string): boolean {
  const [first] = findSentence(locale, key).message;
  return first !== undefined && findParameter(first) === name;
}

const stringers = new Map<Locale, (things: readonly string[]) => string>();

function findStringer(locale: Locale): (things: readonly string[]) => string {
  const { tag, between } = findLanguage(locale);
  if (between !== undefined) return (things) => things.join(between);
  // Made when the first list is strung: it takes a phone as long as drawing a small page, and most pages string none.
  const format = new Intl.ListFormat(tag, { type: 'unit', style: 'short' });
  return (things) => format.format(things);
}

/** Things one after the other, as the language strings them. */
export function toList(locale: Locale, things: readonly string[]): string {
  if (things.length < 2) return things[0] ?? '';
  const string = stringers.get(locale) ?? findStringer(locale);
  stringers.set(locale, string);
  return string(things);
}

/** The text of a message that needs no reading; null where it does, or where its language changes every word. */
function findPlain(locale: Locale, key: MessageKey): string | null {
  if (findLanguage(locale).alter !== undefined) return null;
  const text = catalogues.get(locale)?.[key] ?? spoken[key] ?? key;
  return isPlain(text) ? text : null;
}

export const toMessage = (locale: Locale, key: MessageKey, parameters: MessageParameters = {}): string =>
  findPlain(locale, key) ?? toPieces<string>(locale, key, parameters).join('');
