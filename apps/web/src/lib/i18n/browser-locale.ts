import { DEFAULT_LOCALE, findSpokenLocale, isLocale, type Locale } from '@/messages';
import { LOCALE_COOKIE } from './locale-cookie';

/** The reader's language where the layout, which knows it from the request, is what failed. */
export function findBrowserLocale(): Locale {
  if (typeof document === 'undefined') return DEFAULT_LOCALE;
  const chosen = new RegExp(`(?:^|; )${LOCALE_COOKIE}=([^;]+)`).exec(document.cookie)?.[1];
  if (isLocale(chosen)) return chosen;
  return navigator.languages.map(findSpokenLocale).find((locale) => locale !== null) ?? DEFAULT_LOCALE;
}
