import { setImmediate } from 'node:timers/promises';

/** Rows made when they are asked for: a long list of them is never in memory. */
export function* lazily<T, R>(items: Iterable<T>, make: (item: T, index: number) => R): Generator<R> {
  let index = 0;
  for (const item of items) {
    yield make(item, index);
    index += 1;
  }
}

/** The next so many of an iterator; empty at its end. */
export function takeNext<T>(iterator: Iterator<T>, most: number): T[] {
  const taken: T[] = [];
  while (taken.length < most) {
    const { value, done } = iterator.next();
    if (done === true) break;
    taken.push(value);
  }
  return taken;
}

/**
 * Uses what is prepared, one after the other, and prepares the next while the one before is under way: the database writes while the
 * process makes the next statement. Whatever fails ends it; nothing is prepared further ahead than by one.
 * @param prepare null when there is no more
 */
export async function oneAhead<T>(prepare: () => T | null, use: (prepared: T) => PromiseLike<unknown>): Promise<void> {
  let prepared = prepare();
  while (prepared !== null) {
    const [, next] = await Promise.all([use(prepared), setImmediate().then(prepare)]);
    prepared = next;
  }
}
