import type { Translate } from '@/lib/i18n/i18n';
import { toWords, type Fields } from './forms';

/** What a field is called: its own words where its name is none, such as `kc11`. */
export const toFieldTitle = (t: Translate, name: string): string =>
  t.find(`calculations.field.${name}`) ?? toWords(name);

/** As a label, or at the beginning of a sentence. */
export const upperFirst = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** `parts[0].rating` → "components 1, rating": the field as the page shows it. */
export const toPathTitle = (t: Translate, path: string): string =>
  path
    .split('.')
    .map((segment) => {
      const [, name = segment, index] = /^([^[]*)(?:\[(\d+)\])?/.exec(segment) ?? [];
      return index === undefined ? toFieldTitle(t, name) : `${toFieldTitle(t, name)} ${Number(index) + 1}`;
    })
    .join(', ');

/** A name of a program, not a word of the language that some field is also called by. */
const isName = (name: string): boolean => /[A-Z0-9]/.test(name) || name.length < 3;

/** A text of the calculations' documentation in which fields stand by their names, with the words of the page in their place. */
export function sayFields(t: Translate, text: string, names: readonly string[]): string {
  const known = new Set(names.filter(isName));
  return text.replace(/\b[A-Za-z][A-Za-z0-9]*\b(?:\[\d+\])?(?:\.[A-Za-z][A-Za-z0-9]*)*/g, (word) => {
    const [stem = ''] = word.split(/[.[]/);
    return known.has(stem) || (word !== stem && names.includes(stem)) ? toPathTitle(t, word) : word;
  });
}

/** Names of all fields, at any depth. */
export const listFieldNames = (fields: Fields): string[] =>
  Object.entries(fields).flatMap(([name, field]) => [name, ...listFieldNames(field.fields ?? {})]);
