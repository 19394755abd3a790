import { setTimeout as delay } from 'node:timers/promises';
import { lazily, oneAhead, takeNext } from './one-ahead.js';

describe('one ahead', () => {
  it('prepares the next while one is used, and no further', async () => {
    const log: string[] = [];
    let made = 0;
    await oneAhead(
      () => {
        if (made === 3) return null;
        made += 1;
        log.push(`made ${made}`);
        return made;
      },
      async (one) => {
        log.push(`begin ${one}`);
        await delay(20);
        log.push(`end ${one}`);
      },
    );
    expect(log).toEqual(['made 1', 'begin 1', 'made 2', 'end 1', 'begin 2', 'made 3', 'end 2', 'begin 3', 'end 3']);
  });

  it.each([
    ['using', () => 1, () => Promise.reject(new Error('no room'))],
    [
      'preparing',
      () => {
        throw new Error('no room');
      },
      () => Promise.resolve(),
    ],
  ])('fails when %s fails', async (_what, prepare, use) => {
    await expect(oneAhead(prepare, use)).rejects.toThrow('no room');
  });

  it('takes portions of rows that are made when they are asked for', () => {
    const made: number[] = [];
    const rows = lazily([10, 20, 30], (item, index) => {
      made.push(index);
      return item + index;
    });
    expect(takeNext(rows, 2)).toEqual([10, 21]);
    expect(made).toEqual([0, 1]);
    expect(takeNext(rows, 2)).toEqual([32]);
    expect(takeNext(rows, 2)).toEqual([]);
  });
});
