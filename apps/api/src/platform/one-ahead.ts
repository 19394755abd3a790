import { setImmediate } from 'node:timers/promises';

/** Rows made when they are asked for: a long list of them is never in memory. */
export function* lazily<T, R>(items: Iterable<T>, make: (item: T, index: number) => R): Generator<R> {
  let index = 0;
  for (const item of items) {
    yield make(item, index);
    index += 1;
  }
}

/** Portions of so many at the most. */
export function* chunksOf<T>(items: Iterable<T>, most: number): Generator<T[]> {
  let chunk: T[] = [];
  for (const item of items) {
    chunk.push(item);
    if (chunk.length < most) continue;
    yield chunk;
    chunk = [];
  }
  if (chunk.length > 0) yield chunk;
}

/**
 * Uses one after the other, and asks for the next while the one before is under way: the database writes while the process makes the
 * next statement. Whatever fails ends it; nothing is asked for further ahead than by one.
 */
export async function oneAhead<T>(items: Iterable<T>, use: (item: T) => PromiseLike<unknown>): Promise<void> {
  const iterator = items[Symbol.iterator]();
  let current = iterator.next();
  while (current.done !== true) {
    const [, next] = await Promise.all([use(current.value), setImmediate().then(() => iterator.next())]);
    current = next;
  }
}
