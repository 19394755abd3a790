import { z } from 'zod';
import { AppError } from '../errors/app-error.js';
import { asStored, formerShape, storedDocument } from './stored-document.js';

const place = storedDocument({
  name: 'place of a part',
  schema: z.strictObject({ name: z.string(), at: z.object({ x: z.number(), y: z.number() }) }),
  former: [
    formerShape(z.strictObject({ name: z.string(), x: z.number() }), ({ name, x }) => ({ name, at: { x, y: 0 } })),
    formerShape(z.string(), (name) => ({ name, at: { x: 0, y: 0 } })),
  ],
});
const refusalOf = (work: () => unknown): AppError => {
  try {
    work();
  } catch (error) {
    if (error instanceof AppError) return error;
    throw error;
  }
  throw new Error('it was read');
};

describe('a stored document', () => {
  it('is read as it is, and stepped up from each of its former shapes', () => {
    expect(place.read({ name: 'a', at: { x: 1, y: 2 } })).toEqual({ name: 'a', at: { x: 1, y: 2 } });
    expect(place.read({ name: 'a', x: 1 })).toEqual({ name: 'a', at: { x: 1, y: 0 } });
    expect(place.readText('"a"')).toEqual({ name: 'a', at: { x: 0, y: 0 } });
  });

  it('of none of them says which it is, whose, and where, and never what stands there', () => {
    const refused = refusalOf(() => place.read({ name: 'a', at: { x: 1, y: 'secret' } }, 'bracket 4'));
    expect(refused.code).toBe('record.unreadable');
    expect(refused.message).toBe('What is stored as place of a part (bracket 4) cannot be read: /at/y needs a number.');
    expect(JSON.stringify(refused.details)).not.toContain('secret');
    expect(refusalOf(() => place.read(null)).message).toBe(
      'What is stored as place of a part cannot be read: needs an object.',
    );
    expect(refusalOf(() => place.readText('{')).message).toBe(
      'What is stored as place of a part cannot be read: it is no JSON.',
    );
  });

  it('is left out of a list where it cannot be read', () => {
    expect(place.readOrNull({ name: 'a' })).toBeNull();
    expect(place.readOrNull('a')).toEqual({ name: 'a', at: { x: 0, y: 0 } });
  });

  it('is not written where it could not be read again', () => {
    const value = { name: 'a', at: { x: 1, y: 2 } };
    expect(place.write(value)).toBe(value);
    expect(() => place.write({ name: 'a', at: { x: 1, y: Number.NaN } })).toThrow('place of a part');
  });

  it('is given as it is stored where only what must hold is checked', () => {
    const kept = storedDocument<{ a: number; more?: unknown }>({
      name: 'kept',
      schema: asStored<{ a: number; more?: unknown }>(z.object({ a: z.number(), b: z.number().default(0) })),
    });
    const stored = { more: [-0], a: 0.1 };
    expect(kept.read(stored)).toBe(stored);
    expect(refusalOf(() => kept.read({ a: 'x' })).message).toContain('/a needs a number');
  });
});
