import { setTimeout as delay } from 'node:timers/promises';
import { chunksOf, lazily, oneAhead } from './one-ahead.js';

describe('one ahead', () => {
  it('prepares the next while one is used, and no further', async () => {
    const log: string[] = [];
    await oneAhead(
      lazily([1, 2, 3], (item) => {
        log.push(`made ${item}`);
        return item;
      }),
      async (item) => {
        log.push(`begin ${item}`);
        await delay(20);
        log.push(`end ${item}`);
      },
    );
    expect(log).toEqual(['made 1', 'begin 1', 'made 2', 'end 1', 'begin 2', 'made 3', 'end 2', 'begin 3', 'end 3']);
  });

  const fail = (): never => {
    throw new Error('no room');
  };
  it.each([
    ['using', [1], () => Promise.reject(new Error('no room'))],
    ['making', lazily([1], fail), () => Promise.resolve()],
  ])('fails when %s fails', async (_what, items, use) => {
    await expect(oneAhead(items, use)).rejects.toThrow('no room');
  });

  it('takes portions of rows that are made when they are asked for', () => {
    const made: number[] = [];
    const rows = lazily([10, 20, 30], (item, index) => {
      made.push(index);
      return item + index;
    });
    const portions = chunksOf(rows, 2);
    expect(portions.next().value).toEqual([10, 21]);
    expect(made).toEqual([0, 1]);
    expect(portions.next().value).toEqual([32]);
    expect(portions.next().done).toBe(true);
  });
});
