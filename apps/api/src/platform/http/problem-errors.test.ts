import { z } from 'zod';
import { toProblemErrors } from './problem-errors.js';

const schema = z.strictObject({
  id: z.uuid(),
  name: z.string().min(1).max(3),
  count: z.int().min(2),
  kind: z.enum(['a', 'b']),
  list: z.array(z.strictObject({ at: z.iso.date() })).min(1),
});
const errorsOf = (value: unknown) => {
  const parsed = schema.safeParse(value);
  if (parsed.success) throw new Error('it should have been refused');
  return toProblemErrors(parsed.error, value, '');
};

describe('a refused body', () => {
  it('says of each field, by its pointer, what it got and what it needs in plain words', () => {
    const errors = errorsOf({ id: 'x', name: 'long', count: 1, kind: 'c', list: [{ at: 'soon' }], 'a/b~c': 1 });
    expect(errors.map(({ pointer, got, needs }) => [pointer, got, needs])).toEqual([
      ['/id', '"x"', 'a UUID'],
      ['/name', '"long"', 'at most 3 characters'],
      ['/count', '1', 'at least 2'],
      ['/kind', '"c"', 'one of: a, b'],
      ['/list/0/at', '"soon"', 'a calendar day such as 2026-11-25'],
      ['/a~1b~0c', '1', 'no such field'],
    ]);
  });

  it('never echoes a large value', () => {
    const [error] = errorsOf({ id: 'x'.repeat(10_000), name: 'a', count: 2, kind: 'a', list: [{ at: '2026-11-25' }] });
    expect(error?.got.length).toBeLessThanOrEqual(120);
  });

  it('names a hundred faults at the most, in names and in entries', () => {
    const names = Object.fromEntries(Array.from({ length: 5_000 }, (_, index) => [`n${index}`, 1]));
    const list = Array.from({ length: 5_000 }, () => ({ at: 'soon' }));
    expect(errorsOf({ ...names, list }).length).toBe(100);
    expect(errorsOf({ list }).length).toBe(100);
  });

  it('says what is missing', () => {
    expect(errorsOf({}).map(({ field, got, needs }) => `${field}: ${got}, ${needs}`)).toEqual([
      'id: nothing, a text',
      'name: nothing, a text',
      'count: nothing, a number',
      'kind: nothing, one of: a, b',
      'list: nothing, a list',
    ]);
  });
});
