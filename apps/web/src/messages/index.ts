import { en, type MessageKey } from './en';

export type { MessageKey };
export const LOCALES = ['en', 'pseudo'] as const;
export type Locale = (typeof LOCALES)[number];
export type MessageParameters = Readonly<Record<string, string | number>>;

export function isLocale(text: string | null | undefined): text is Locale {
  return text === 'en' || text === 'pseudo';
}

export function isMessageKey(text: string): text is MessageKey {
  return Object.hasOwn(en, text);
}

/** The message with its `{parameters}` still in it. */
export function findTemplate(locale: Locale, key: MessageKey): string {
  return locale === 'pseudo' ? toPseudo(en[key]) : en[key];
}

/** The message with its `{parameters}` filled in; one that is not given stays visible, so that it is found. */
export function toMessage(locale: Locale, key: MessageKey, parameters: MessageParameters = {}): string {
  return findTemplate(locale, key).replace(/\{(\w+)\}/g, (whole, name: string) =>
    parameters[name] === undefined ? whole : String(parameters[name]),
  );
}

/** Which of a message's `.one` and `.other` a count takes; rules of CLDR through the platform. */
export function getPlural(locale: Locale, count: number): 'one' | 'other' {
  return new Intl.PluralRules(toLanguageTag(locale)).select(count) === 'one' ? 'one' : 'other';
}

export function toLanguageTag(locale: Locale): string {
  return locale === 'pseudo' ? 'en' : 'en-GB';
}

const ACCENTED: Readonly<Record<string, string>> = {
  a: 'á', c: 'ç', e: 'ë', g: 'ğ', i: 'î', l: 'ľ', n: 'ñ', o: 'ö', r: 'ŕ', s: 'š', t: 'ţ', u: 'ü', y: 'ý', z: 'ž',
  A: 'Á', C: 'Ç', E: 'Ë', I: 'Î', N: 'Ñ', O: 'Ö', S: 'Š', T: 'Ţ', U: 'Ü',
}; // prettier-ignore

/** A language of nobody: every word from the catalogue is accented, bracketed and 40 % longer, so that one that is not stands out. */
export function toPseudo(text: string): string {
  const parts = text.split(/(\{\w+\})/);
  const accented = parts.map((part) =>
    part.startsWith('{') ? part : [...part].map((letter) => ACCENTED[letter] ?? letter).join(''),
  );
  const letters = text.replace(/\{\w+\}/g, '').length;
  return `[${accented.join('')}${'·'.repeat(Math.ceil(letters * 0.4))}]`;
}
