import {
  dropDraft,
  dropDraftsOf,
  findDraft,
  keepDraft,
  listDrafts,
  type DraftStorage,
  type StoredDraft,
} from './draft-store';

const DAY_MS = 86_400_000;
const NOW = Date.UTC(2026, 10, 28);
const OWNER = { userId: 'ann', organisationId: 'north' };

/** A browser's storage, with room for so many characters. */
function createStorage(room = Infinity): DraftStorage & { entries: Map<string, string> } {
  const entries = new Map<string, string>();
  return {
    entries,
    get length() {
      return entries.size;
    },
    key: (index) => [...entries.keys()][index] ?? null,
    getItem: (key) => entries.get(key) ?? null,
    removeItem: (key) => void entries.delete(key),
    setItem: (key, value) => {
      const others = [...entries].filter(([other]) => other !== key);
      const used = others.reduce((sum, [, text]) => sum + text.length, value.length);
      if (used > room) throw new DOMException('no room', 'QuotaExceededError');
      entries.set(key, value);
    },
  };
}

const draft = (name: string, savedAt = NOW, value: unknown = { text: name }): StoredDraft => ({
  name,
  label: `Form ${name}`,
  path: '/machines/1',
  savedAt,
  value,
});

describe('drafts in the browser', () => {
  it('are found again by their person, in their organisation, with the time', () => {
    const storage = createStorage();
    expect(keepDraft(storage, OWNER, draft('target'))).toBe(true);
    expect(findDraft(storage, OWNER, 'target', NOW)).toMatchObject({ savedAt: NOW, value: { text: 'target' } });
    expect(findDraft(storage, { ...OWNER, userId: 'bob' }, 'target', NOW)).toBeNull();
    expect(findDraft(storage, { ...OWNER, organisationId: 'south' }, 'target', NOW)).toBeNull();
    dropDraft(storage, OWNER, 'target');
    expect(storage.entries.size).toBe(0);
  });

  it('are dropped after thirty days, and when they are of another version or no draft at all', () => {
    const storage = createStorage();
    keepDraft(storage, OWNER, draft('old', NOW - 31 * DAY_MS));
    keepDraft(storage, OWNER, draft('young', NOW - 29 * DAY_MS));
    storage.setItem('kedge-draft:ann:north:earlier', JSON.stringify({ ...draft('earlier'), version: 0 }));
    storage.setItem('kedge-draft:ann:north:broken', '{');
    storage.setItem('other', 'stays');
    expect(findDraft(storage, OWNER, 'old', NOW)).toBeNull();
    expect(listDrafts(storage, OWNER, NOW).map(({ name }) => name)).toEqual(['young']);
    expect([...storage.entries.keys()]).toEqual(['kedge-draft:ann:north:young', 'other']);
  });

  it('go with their person, whichever organisation they were for', () => {
    const storage = createStorage();
    keepDraft(storage, OWNER, draft('one'));
    keepDraft(storage, { ...OWNER, organisationId: 'south' }, draft('two'));
    keepDraft(storage, { ...OWNER, userId: 'bob' }, draft('three'));
    dropDraftsOf(storage, 'ann');
    expect([...storage.entries.keys()]).toEqual(['kedge-draft:bob:north:three']);
  });

  it('are bounded: one that is too long is not kept, of many the oldest go', () => {
    const storage = createStorage();
    keepDraft(storage, OWNER, draft('long'));
    expect(keepDraft(storage, OWNER, draft('long', NOW, 'x'.repeat(200_001)))).toBe(false);
    expect(findDraft(storage, OWNER, 'long', NOW)).toBeNull();
    for (let index = 0; index < 65; index += 1) keepDraft(storage, OWNER, draft(`n${index}`, NOW + index));
    const names = listDrafts(storage, OWNER, NOW + 65).map(({ name }) => name);
    expect([names.length, names[0], names.at(-1)]).toEqual([60, 'n64', 'n5']);
  });

  it('make room for the newest where the browser gives no more, and say so where even that is not enough', () => {
    const storage = createStorage(1_000);
    expect(keepDraft(storage, OWNER, draft('first', NOW, 'x'.repeat(600)))).toBe(true);
    expect(keepDraft(storage, OWNER, draft('second', NOW + 1, 'x'.repeat(600)))).toBe(true);
    expect(listDrafts(storage, OWNER, NOW + 1).map(({ name }) => name)).toEqual(['second']);
    expect(keepDraft(storage, OWNER, draft('third', NOW + 2, 'x'.repeat(1_200)))).toBe(false);
  });
});
