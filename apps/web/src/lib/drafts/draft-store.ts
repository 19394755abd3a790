/** What of `localStorage` is used; a test gives its own. */
export type DraftStorage = Pick<Storage, 'getItem' | 'setItem' | 'removeItem' | 'key' | 'length'>;

export interface StoredDraft {
  /** the form's name for it, such as `target:…` */
  name: string;
  /** what the form is called on screen */
  label: string;
  /** where it was typed */
  path: string;
  savedAt: number;
  value: unknown;
}

/** Whose draft it is: somebody else at the same browser must not find it, nor the same person in another organisation. */
export interface DraftOwner {
  userId: string;
  organisationId: string;
}

const PREFIX = 'kedge-draft:';
/** Drafts of another version are of forms as they were: they are dropped. */
const VERSION = 3;
const KEPT_MS = 30 * 86_400_000;
const MOST_CHARACTERS = 200_000;
const MOST_DRAFTS = 60;

const toPrefix = ({ userId, organisationId }: DraftOwner): string => `${PREFIX}${userId}:${organisationId}:`;

function listKeys(storage: DraftStorage, prefix: string): string[] {
  return Array.from({ length: storage.length }, (_nothing, index) => storage.key(index) ?? '').filter((key) =>
    key.startsWith(prefix),
  );
}

function isStored(stored: unknown): stored is StoredDraft & { version: number } {
  return (
    typeof stored === 'object' &&
    stored !== null &&
    'version' in stored &&
    stored.version === VERSION &&
    'savedAt' in stored &&
    typeof stored.savedAt === 'number' &&
    'value' in stored
  );
}

function read(storage: DraftStorage, key: string, nowMs: number): StoredDraft | null {
  const text = storage.getItem(key);
  if (text === null) return null;
  try {
    const stored: unknown = JSON.parse(text);
    return isStored(stored) && nowMs - stored.savedAt < KEPT_MS ? stored : null;
  } catch (error) {
    if (error instanceof SyntaxError) return null;
    throw error;
  }
}

/** Everything that is kept for somebody, newest first; what is too old, or cannot be read any more, goes. */
export function listDrafts(storage: DraftStorage, owner: DraftOwner, nowMs: number): StoredDraft[] {
  const drafts: StoredDraft[] = [];
  for (const key of listKeys(storage, PREFIX)) {
    const draft = read(storage, key, nowMs);
    if (draft === null) storage.removeItem(key);
    else if (key.startsWith(toPrefix(owner))) drafts.push(draft);
  }
  return drafts.toSorted((a, b) => b.savedAt - a.savedAt);
}

export const findDraft = (storage: DraftStorage, owner: DraftOwner, name: string, nowMs: number): StoredDraft | null =>
  read(storage, toPrefix(owner) + name, nowMs);

export function dropDraft(storage: DraftStorage, owner: DraftOwner, name: string): void {
  storage.removeItem(toPrefix(owner) + name);
}

/** Of one person, whichever organisation it was for. */
export function dropDraftsOf(storage: DraftStorage, userId: string): void {
  for (const key of listKeys(storage, `${PREFIX}${userId}:`)) storage.removeItem(key);
}

/**
 * Keeps a draft; beyond so many the oldest go. False where it cannot be kept: it is too long, or the browser gives no more room, even
 * when every other draft of that person has made way.
 */
export function keepDraft(storage: DraftStorage, owner: DraftOwner, draft: StoredDraft): boolean {
  const key = toPrefix(owner) + draft.name;
  const text = JSON.stringify({ version: VERSION, ...draft });
  if (text.length > MOST_CHARACTERS) {
    storage.removeItem(key);
    return false;
  }
  const others = listDrafts(storage, owner, draft.savedAt).filter(({ name }) => name !== draft.name);
  for (const { name } of others.slice(MOST_DRAFTS - 1)) dropDraft(storage, owner, name);
  for (const oldest of [...others.toReversed(), null]) {
    try {
      storage.setItem(key, text);
      return true;
    } catch (error) {
      if (!(error instanceof DOMException)) throw error;
      if (oldest !== null) dropDraft(storage, owner, oldest.name);
    }
  }
  return false;
}
