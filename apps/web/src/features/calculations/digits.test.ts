import type { FieldDescription } from '@repo/calc';
import { countDigits, digitsOf, toRounded } from './digits';
import { toBlankDrafts } from './forms';

describe('digits that are significant', () => {
  it.each([
    ['40', 2],
    ['40.0', 3],
    ['0.035', 2],
    ['1.50 in', 3],
    ['−12,5', 3],
    ['2.1e5', 2],
    ['0', null],
    ['', null],
    ['abc', null],
  ])('of %s are %s', (text, digits) => {
    expect(countDigits(text)).toBe(digits);
  });

  const length: FieldDescription = { type: 'quantity', kind: 'length', units: ['mm'] };
  const fields: Record<string, FieldDescription> = {
    bore: length,
    rod: length,
    teeth: { type: 'count' },
    ratio: { type: 'number' },
    places: { type: 'vector', kind: 'length', units: ['mm'] },
    parts: { type: 'list', fields: { rating: length, name: { type: 'text' } } },
  };
  const typed = (texts: Record<string, string>, rating?: string): number => {
    const drafts = toBlankDrafts(fields);
    for (const [name, text] of Object.entries(texts)) {
      const draft = drafts[name];
      if (draft !== undefined) draft.text = text;
    }
    if (rating !== undefined && drafts['parts'] !== undefined) {
      const item = toBlankDrafts(fields['parts']?.fields ?? {});
      if (item['rating'] !== undefined) item['rating'].text = rating;
      drafts['parts'].items.push(item);
    }
    return digitsOf(fields, drafts);
  };

  it('of a result are as many as the input has that says least, and at least two', () => {
    expect(typed({ bore: '40.00', rod: '25.0' })).toBe(3);
    expect(typed({ bore: '40.00', rod: '4' })).toBe(2);
    expect(typed({ bore: '40.00' }, '2.5')).toBe(2);
    expect(typed({ places: '10.25; 0; 20.5' })).toBe(3);
  });

  it('are not held down by what is exact: counts, whole ratios, zero', () => {
    expect(typed({ bore: '40.00', teeth: '4', ratio: '2', rod: '0' })).toBe(4);
    expect(typed({ bore: '40.00', ratio: '1.25' })).toBe(3);
    // Nothing typed that says how fine: as fine as a page shows anything.
    expect(typed({})).toBe(6);
  });

  it('round what is shown', () => {
    expect(toRounded(12345.678, 3, true)).toBe(12300);
    expect(toRounded(0.0123456, 2, true)).toBe(0.012);
    // A plain whole number counts something.
    expect(toRounded(12345, 2, false)).toBe(12345);
    // A share near one says something by what is missing of it.
    expect(toRounded(0.998654, 2, false)).toBe(0.9987);
    expect(toRounded(1.24, 2, false)).toBe(1.2);
  });
});
