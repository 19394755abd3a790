import { wordsOf } from '../search-words.js';

/** A word as it was typed: the database takes `%` and `_` for anything where they are not escaped. */
const escaped = (word: string): string => word.replaceAll(/[\\%_]/g, String.raw`\$&`);

/** Holds a word, capital or not. */
const holding = (word: string) => ({ contains: escaped(word), mode: 'insensitive' as const });

/**
 * Where every word that is looked for stands in one of a record's texts, in whichever order.
 * @param toPlaces the texts of a record, each holding the word
 */
export const everyWord = <T>(
  search: string | undefined,
  toPlaces: (holds: ReturnType<typeof holding>) => T[],
): { OR: T[] }[] => wordsOf(search ?? '').map((word) => ({ OR: toPlaces(holding(word)) }));

/** The same for a statement of one's own: each word as a pattern for `ILIKE`. */
export const patternsOf = (search: string | undefined): string[] =>
  wordsOf(search ?? '').map((word) => `%${escaped(word)}%`);
