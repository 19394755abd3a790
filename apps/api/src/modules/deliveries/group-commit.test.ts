import { GroupCommit } from './group-commit.js';

const settle = (items: readonly Promise<{ result: number }>[]) =>
  Promise.all(
    items.map((item) =>
      item.then(
        ({ result }) => String(result),
        (error: unknown) => `refused: ${String(error)}`,
      ),
    ),
  );

function group(commit: (items: readonly number[]) => Promise<readonly number[]>, more: { mostBytes?: number } = {}) {
  return new GroupCommit<number, number>({
    commit,
    isOfOneItem: (error) => error instanceof Error && error.message === 'spoilt',
    mostItems: 10,
    mostBytes: more.mostBytes ?? 1000,
    lingerMs: 5,
  });
}

describe('Commits in groups', () => {
  it('what arrives during a commit goes together in the next', async () => {
    const groups: number[][] = [];
    const line = group(async (items) => {
      groups.push([...items]);
      await new Promise((resolve) => setTimeout(resolve, 20));
      return items.map((item) => item * 2);
    });
    const first = line.submit(1, 1);
    await new Promise((resolve) => setTimeout(resolve, 5));
    const rest = [2, 3, 4].map((item) => line.submit(item, 1));
    expect(await settle([first, ...rest])).toEqual(['2', '4', '6', '8']);
    expect(groups).toEqual([[1], [2, 3, 4]]);
    await line.rest();
    expect(line.load).toBe(0);
  });

  it('one that spoils its group is refused alone', async () => {
    const line = group((items) => (items.includes(13) ? Promise.reject(new Error('spoilt')) : Promise.resolve(items)));
    expect(await settle([1, 13, 2].map((item) => line.submit(item, 1)))).toEqual(['1', 'refused: Error: spoilt', '2']);
  });

  it('a fault that is nobody’s refuses the whole group, once', async () => {
    let tries = 0;
    const line = group(() => {
      tries += 1;
      return Promise.reject(new Error('no database'));
    });
    expect(await settle([1, 2].map((item) => line.submit(item, 1)))).toEqual([
      'refused: Error: no database',
      'refused: Error: no database',
    ]);
    expect(tries).toBe(1);
  });

  it('a group is bounded in items and bytes, and nothing is left behind', async () => {
    const sizes: number[] = [];
    const line = group(
      (items) => {
        sizes.push(items.length);
        return Promise.resolve(items);
      },
      { mostBytes: 100 },
    );
    const items = Array.from({ length: 25 }, (_, index) => index);
    await settle(items.map((item) => line.submit(item, 30)));
    expect(Math.max(...sizes)).toBe(3);
    expect(sizes.reduce((sum, size) => sum + size, 0)).toBe(25);
    expect(await settle([line.submit(7, 5000)])).toEqual(['7']);
  });
});
