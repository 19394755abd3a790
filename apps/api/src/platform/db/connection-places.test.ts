import { AppError } from '../errors/app-error.js';
import { ConnectionPlaces } from './connection-places.js';

const share = (organisation: string, person: string) => ({ organisation, person });
/** Nobody waits for the answer here: a refusal that comes after the test must end nothing else. */
const ask = (places: ConnectionPlaces, who: ReturnType<typeof share>, task: () => Promise<void>): Promise<unknown> =>
  places.hold(who, task).catch((refusal: unknown) => refusal);
const breathe = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));

/** Work that ends when it is told to, and who has begun. */
function work() {
  const begun: string[] = [];
  const ends = new Map<string, () => void>();
  return {
    begun,
    end: async (name: string) => {
      ends.get(name)?.();
      await breathe();
    },
    task: (name: string) => () => {
      begun.push(name);
      return new Promise<void>((resolve) => ends.set(name, resolve));
    },
  };
}

describe('places at the database', () => {
  it('are never more than half of one person, and never all of one organisation', async () => {
    const places = new ConnectionPlaces(4);
    const { begun, task } = work();
    for (const name of ['ann 1', 'ann 2', 'ann 3']) void ask(places, share('A', 'ann'), task(name));
    for (const name of ['abe 1', 'abe 2']) void ask(places, share('A', 'abe'), task(name));
    await breathe();
    expect(begun).toEqual(['ann 1', 'ann 2', 'abe 1']);
    void ask(places, share('B', 'bea'), task('bea 1'));
    await breathe();
    expect(begun).toEqual(['ann 1', 'ann 2', 'abe 1', 'bea 1']);
  });

  it('go on in fair turns as they become free, also after what failed', async () => {
    const places = new ConnectionPlaces(2);
    const { begun, task, end } = work();
    const failing = places.hold(share('A', 'ann'), () => Promise.reject(new Error('as planted')));
    await expect(failing).rejects.toThrow('as planted');
    for (const name of ['ann 1', 'ann 2', 'ann 3']) void ask(places, share('A', 'ann'), task(name));
    void ask(places, share('B', 'bea'), task('bea 1'));
    void ask(places, share('B', 'bea'), task('bea 2'));
    await breathe();
    expect(begun).toEqual(['ann 1', 'bea 1']);
    await end('ann 1');
    await end('bea 1');
    expect(begun).toEqual(['ann 1', 'bea 1', 'ann 2', 'bea 2']);
  });

  it('are refused to whoever waits with more than a hundred, as their own doing', async () => {
    const places = new ConnectionPlaces(4);
    const { task } = work();
    for (let number = 0; number < 102; number += 1) void ask(places, share('A', 'ann'), task(`ann ${number}`));
    const refused = await ask(places, share('A', 'ann'), task('one more'));
    expect(refused).toBeInstanceOf(AppError);
    expect(refused).toMatchObject({ code: 'request.too_many', details: { retryAfterS: 3 } });
  });

  it('are refused to whoever has waited too long, who then waits no more', async () => {
    const places = new ConnectionPlaces(2, 30);
    const { begun, task, end } = work();
    void ask(places, share('A', 'ann'), task('ann 1'));
    expect(await ask(places, share('A', 'ann'), task('ann 2'))).toMatchObject({ code: 'request.too_many' });
    await end('ann 1');
    expect(begun).toEqual(['ann 1']);
  });
});
