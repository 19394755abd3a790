import { findSpokenLocale, type Locale } from './index';

interface Wish {
  tag: string;
  weight: number;
}

function readWish(text: string): Wish {
  const [tag = '', ...parameters] = text.split(';').map((part) => part.trim());
  const quality = parameters.find((parameter) => parameter.startsWith('q='));
  return { tag, weight: quality === undefined ? 1 : Number(quality.slice(2)) };
}

/** The language that an `Accept-Language` header likes best among those that are here; null when it names none of them. */
export function chooseLocale(header: string | null): Locale | null {
  const wishes = (header ?? '')
    .split(',')
    .map(readWish)
    .filter(({ weight }) => weight > 0);
  for (const { tag } of wishes.toSorted((a, b) => b.weight - a.weight)) {
    const locale = findSpokenLocale(tag);
    if (locale !== null) return locale;
  }
  return null;
}
