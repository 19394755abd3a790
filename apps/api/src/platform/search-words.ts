const MOST_WORDS = 8;

/** The words of a search. What stands between the names of a label is none: a label that is typed whole is found as well. */
export const wordsOf = (search: string): string[] =>
  search
    .split(/[\s·]+/)
    .map((word) => word.replace(/[,:]+$/, ''))
    .filter((word) => word !== '')
    .slice(0, MOST_WORDS);
