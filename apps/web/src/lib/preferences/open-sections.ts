/** What of `localStorage` is used; a test gives its own. */
export type SectionStorage = Pick<Storage, 'getItem' | 'setItem'>;

/** Sections that a person has opened or closed; of all others the page decides. */
export type OpenSections = Readonly<Record<string, boolean>>;

const toKey = (userId: string): string => `kedge-sections:${userId}`;

/** What cannot be read any more counts as never chosen. */
export function readOpenSections(storage: SectionStorage, userId: string): OpenSections {
  const text = storage.getItem(toKey(userId));
  if (text === null) return {};
  try {
    const stored: unknown = JSON.parse(text);
    if (typeof stored !== 'object' || stored === null) return {};
    return Object.fromEntries(
      Object.entries(stored).filter((entry): entry is [string, boolean] => typeof entry[1] === 'boolean'),
    );
  } catch (error) {
    if (error instanceof SyntaxError) return {};
    throw error;
  }
}

/** @returns false when the browser keeps nothing more: the choice then lasts as long as the page */
export function keepOpenSections(storage: SectionStorage, userId: string, sections: OpenSections): boolean {
  try {
    storage.setItem(toKey(userId), JSON.stringify(sections));
    return true;
  } catch (error) {
    if (error instanceof DOMException) return false;
    throw error;
  }
}
