import { wordsOf } from '../search-words.js';

/** Holds a word as it was typed, capital or not: the database takes `%` and `_` for anything where they are not escaped. */
const holding = (word: string) => ({
  contains: word.replaceAll(/[\\%_]/g, String.raw`\$&`),
  mode: 'insensitive' as const,
});

/**
 * Where every word that is looked for stands in one of a record's texts, in whichever order.
 * @param toPlaces the texts of a record, each holding the word
 */
export const everyWord = <T>(
  search: string | undefined,
  toPlaces: (holds: ReturnType<typeof holding>) => T[],
): { OR: T[] }[] => wordsOf(search ?? '').map((word) => ({ OR: toPlaces(holding(word)) }));
