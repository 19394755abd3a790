'use client';

import { createContext, Fragment, use, useContext, useEffect, useMemo, type ReactNode } from 'react';
import { useSearchParams } from 'next/navigation';
import {
  beginsWith,
  DEFAULT_LOCALE,
  isLoaded,
  isLocale,
  isMessageKey,
  loadLanguage,
  toLanguageTag,
  toList,
  toMessage,
  toPieces,
  type Locale,
  type MessageKey,
  type MessageParameters,
} from '@/messages';
import { LOCALE_COOKIE } from './locale-cookie';
import { useReaderZone } from './reader-zone';

type Elements = Readonly<Record<string, ReactNode>>;

export interface Translate {
  (key: MessageKey, parameters?: MessageParameters): string;
  /** like the call itself, but parameters may be elements */
  rich: (key: MessageKey, parameters: Elements) => ReactNode;
  /** for keys that are made from a code: null when the catalogue has none */
  find: (key: string, parameters?: MessageParameters) => string | null;
  /** like `find`, with elements */
  findRich: (key: string, parameters: Elements) => ReactNode | null;
  /** whether the catalogue has it */
  has: (key: string) => key is MessageKey;
  /** whether what is given under this name begins the message */
  beginsWith: (key: MessageKey, name: string) => boolean;
  /** things one after the other, as the language strings them */
  list: (things: readonly string[]) => string;
  locale: Locale;
  languageTag: string;
}

const LocaleContext = createContext<Locale>(DEFAULT_LOCALE);

export function LocaleProvider({ initial, children }: { initial: Locale; children: ReactNode }) {
  const asked = useSearchParams().get('locale');
  const locale = isLocale(asked) ? asked : initial;
  // A language other than the default one comes in a file of its own, which the first paint waits for.
  if (!isLoaded(locale)) use(loadLanguage(locale));
  useEffect(() => {
    if (isLocale(asked)) document.cookie = `${LOCALE_COOKIE}=${asked}; Path=/; SameSite=Lax; Max-Age=31536000`;
  }, [asked]);
  useEffect(() => {
    const tag = toLanguageTag(locale);
    // Saying it again would style the whole page anew.
    if (document.documentElement.lang !== tag) document.documentElement.lang = tag;
  }, [locale]);
  return <LocaleContext value={locale}>{children}</LocaleContext>;
}

function toTranslate(locale: Locale): Translate {
  const translate = (key: MessageKey, parameters?: MessageParameters): string => toMessage(locale, key, parameters);
  const rich = (key: MessageKey, parameters: Elements): ReactNode =>
    toPieces<ReactNode>(locale, key, parameters).map((piece, index) => <Fragment key={index}>{piece}</Fragment>);
  const languageTag = toLanguageTag(locale);
  return Object.assign(translate, {
    rich,
    find: (key: string, parameters?: MessageParameters) =>
      isMessageKey(key) ? toMessage(locale, key, parameters) : null,
    findRich: (key: string, parameters: Elements) => (isMessageKey(key) ? rich(key, parameters) : null),
    list: (things: readonly string[]) => toList(locale, things),
    has: isMessageKey,
    beginsWith: (key: MessageKey, name: string) => beginsWith(locale, key, name),
    locale,
    languageTag,
  });
}

const translators = new Map<Locale, Translate>();

/** The reader's words. Stable between renders while the language stays. */
export function useTranslate(): Translate {
  const locale = useContext(LocaleContext);
  const translate = translators.get(locale) ?? toTranslate(locale);
  translators.set(locale, translate);
  return translate;
}

const DAY = { day: 'numeric', month: 'short', year: 'numeric' } as const;
const TIME = { ...DAY, hour: '2-digit', minute: '2-digit', timeZoneName: 'short' } as const;
type DateFormat = typeof DAY | typeof TIME;

const formatters = new Map<DateFormat, Map<string, Intl.DateTimeFormat>>();

/** Making one takes longer than drawing a row of a table. */
function findFormatter(format: DateFormat, languageTag: string, timeZone: string): Intl.DateTimeFormat {
  const made = formatters.get(format) ?? new Map<string, Intl.DateTimeFormat>();
  formatters.set(format, made);
  const key = `${languageTag} ${timeZone}`;
  const formatter = made.get(key) ?? new Intl.DateTimeFormat(languageTag, { ...format, timeZone });
  made.set(key, formatter);
  return formatter;
}

/** Dates in the zone of the place they belong to, with the zone named where it is not the reader's own. */
export function useDates() {
  const { languageTag } = useTranslate();
  const readerZone = useReaderZone();
  return useMemo(() => {
    const format = (kind: DateFormat, instant: string, timeZone: string): string =>
      findFormatter(kind, languageTag, timeZone).format(new Date(instant));
    return {
      /** a calendar day written as 2026-11-25: no zone is involved */
      onDay: (date: string): string => format(DAY, `${date.slice(0, 10)}T00:00:00Z`, 'UTC'),
      /** an instant, as the day it was in `timeZone` */
      atDay: (instant: string, timeZone = readerZone): string => format(DAY, instant, timeZone),
      /** an instant with its time and the zone's short name */
      atTime: (instant: string, timeZone = readerZone): string => format(TIME, instant, timeZone),
    };
  }, [languageTag, readerZone]);
}
