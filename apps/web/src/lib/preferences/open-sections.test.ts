import { keepOpenSections, readOpenSections } from './open-sections';

function makeStorage(): { storage: Parameters<typeof readOpenSections>[0]; texts: Map<string, string> } {
  const texts = new Map<string, string>();
  return {
    texts,
    storage: {
      getItem: (key) => texts.get(key) ?? null,
      setItem: (key, text) => {
        texts.set(key, text);
      },
    },
  };
}

describe('the sections that a person opened', () => {
  it('are kept for that person alone', () => {
    const { storage } = makeStorage();
    expect(keepOpenSections(storage, 'one', { plant: true, checks: false })).toBe(true);
    expect(readOpenSections(storage, 'one')).toEqual({ plant: true, checks: false });
    expect(readOpenSections(storage, 'another')).toEqual({});
  });

  it.each(['{', 'null', '"open"', '{"plant":"yes"}'])('are none where what is kept cannot be read: %s', (text) => {
    const { storage, texts } = makeStorage();
    keepOpenSections(storage, 'one', { plant: true });
    for (const key of texts.keys()) texts.set(key, text);
    expect(readOpenSections(storage, 'one')).toEqual({});
  });

  it('are said not to be kept by a browser that keeps nothing more', () => {
    const full = {
      getItem: () => null,
      setItem: () => {
        throw new DOMException('full', 'QuotaExceededError');
      },
    };
    expect(keepOpenSections(full, 'one', { plant: true })).toBe(false);
  });
});
