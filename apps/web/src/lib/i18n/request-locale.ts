import type { Metadata } from 'next';
import { cookies, headers } from 'next/headers';
import {
  DEFAULT_LOCALE,
  isLocale,
  loadLanguage,
  speakWhole,
  toMessage,
  type Locale,
  type MessageKey,
} from '@/messages';
import { chooseLocale } from '@/messages/choose-locale';
import { en } from '@/messages/en';
import { LOCALE_COOKIE } from './locale-cookie';

speakWhole(en);

/** The language of a request: what the person chose, else what the browser asks for, else the default. Its words are here then. */
export async function findRequestLocale(): Promise<Locale> {
  const chosen = (await cookies()).get(LOCALE_COOKIE)?.value;
  const locale = isLocale(chosen) ? chosen : (chooseLocale((await headers()).get('accept-language')) ?? DEFAULT_LOCALE);
  await loadLanguage(locale);
  return locale;
}

/** For `generateMetadata`: the title of a page in the language of whoever asked for it. */
export const titleOf = (key: MessageKey) => async (): Promise<Metadata> => ({
  title: toMessage(await findRequestLocale(), key),
});
