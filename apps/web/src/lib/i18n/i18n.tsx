'use client';

import { createContext, Fragment, useContext, useEffect, useMemo, type ReactNode } from 'react';
import { useSearchParams } from 'next/navigation';
import {
  findTemplate,
  getPlural,
  isLocale,
  isMessageKey,
  toLanguageTag,
  toMessage,
  type Locale,
  type MessageKey,
  type MessageParameters,
} from '@/messages';

type PluralKey = MessageKey extends infer K ? (K extends `${infer Stem}.other` ? Stem : never) : never;

export interface Translate {
  (key: MessageKey, parameters?: MessageParameters): string;
  /** the `.one` or `.other` of a message, with `{count}` */
  count: (stem: PluralKey, count: number, parameters?: MessageParameters) => string;
  /** like the call itself, but parameters may be elements */
  rich: (key: MessageKey, parameters: Readonly<Record<string, ReactNode>>) => ReactNode;
  /** for keys that are made from a code: null when the catalogue has none */
  find: (key: string, parameters?: MessageParameters) => string | null;
  /** like `find`, with elements */
  findRich: (key: string, parameters: Readonly<Record<string, ReactNode>>) => ReactNode | null;
  locale: Locale;
  languageTag: string;
}

const LocaleContext = createContext<Locale>('en');
const LOCALE_COOKIE = 'kedge-locale';

export function LocaleProvider({ initial, children }: { initial: Locale; children: ReactNode }) {
  const asked = useSearchParams().get('locale');
  const locale = isLocale(asked) ? asked : initial;
  useEffect(() => {
    if (isLocale(asked)) document.cookie = `${LOCALE_COOKIE}=${asked}; Path=/; SameSite=Lax`;
  }, [asked]);
  return <LocaleContext value={locale}>{children}</LocaleContext>;
}

function toRich(template: string, parameters: Readonly<Record<string, ReactNode>>): ReactNode {
  return template.split(/\{(\w+)\}/).map((part, index) => {
    if (index % 2 === 0) return part;
    return <Fragment key={index}>{parameters[part] ?? `{${part}}`}</Fragment>;
  });
}

function toTranslate(locale: Locale): Translate {
  const translate = (key: MessageKey, parameters?: MessageParameters): string => toMessage(locale, key, parameters);
  return Object.assign(translate, {
    count: (stem: PluralKey, count: number, parameters?: MessageParameters) => {
      const key = `${stem}.${getPlural(locale, count)}`;
      return isMessageKey(key) ? toMessage(locale, key, { count, ...parameters }) : key;
    },
    rich: (key: MessageKey, parameters: Readonly<Record<string, ReactNode>>) =>
      toRich(findTemplate(locale, key), parameters),
    find: (key: string, parameters?: MessageParameters) =>
      isMessageKey(key) ? toMessage(locale, key, parameters) : null,
    findRich: (key: string, parameters: Readonly<Record<string, ReactNode>>) =>
      isMessageKey(key) ? toRich(findTemplate(locale, key), parameters) : null,
    locale,
    languageTag: toLanguageTag(locale),
  });
}

const TRANSLATORS: Readonly<Record<Locale, Translate>> = { en: toTranslate('en'), pseudo: toTranslate('pseudo') };

/** The reader's words. Stable between renders while the language stays. */
export function useTranslate(): Translate {
  return TRANSLATORS[useContext(LocaleContext)];
}

/** Dates in the zone of the place they belong to, with the zone named where it is not the reader's own. */
export function useDates() {
  const { languageTag } = useTranslate();
  return useMemo(() => {
    const day = new Intl.DateTimeFormat(languageTag, { day: 'numeric', month: 'short', year: 'numeric' });
    const localDay = new Intl.DateTimeFormat(languageTag, {
      day: 'numeric',
      month: 'short',
      year: 'numeric',
      timeZone: 'UTC',
    });
    return {
      /** a calendar day written as 2026-11-25: no zone is involved */
      onDay: (date: string): string => localDay.format(new Date(`${date.slice(0, 10)}T00:00:00Z`)),
      /** an instant, as the day it was in `timeZone` */
      atDay: (instant: string, timeZone?: string): string =>
        timeZone === undefined
          ? day.format(new Date(instant))
          : new Intl.DateTimeFormat(languageTag, { day: 'numeric', month: 'short', year: 'numeric', timeZone }).format(
              new Date(instant),
            ),
      /** an instant with its time and the zone's short name */
      atTime: (instant: string, timeZone?: string): string =>
        new Intl.DateTimeFormat(languageTag, {
          day: 'numeric',
          month: 'short',
          year: 'numeric',
          hour: '2-digit',
          minute: '2-digit',
          timeZoneName: 'short',
          ...(timeZone === undefined ? {} : { timeZone }),
        }).format(new Date(instant)),
    };
  }, [languageTag]);
}
