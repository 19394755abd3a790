import { FairLine } from './fair-line.js';

const BOUNDS = { person: 1000, organisation: 1000, all: 1000 };
const caller = (organisation: string, person: string) => ({ organisation, person });

/** All that waits, in the order in which it is taken. */
function drain(line: FairLine<string>): string[] {
  const taken: string[] = [];
  for (let next = line.take(); next !== undefined; next = line.take()) taken.push(next);
  return taken;
}

describe('a fair line', () => {
  it('organisations take turns, and persons within theirs', () => {
    const line = new FairLine<string>(BOUNDS);
    for (const number of [1, 2, 3, 4]) line.join(caller('A', 'ann'), `ann ${number}`);
    for (const number of [1, 2]) line.join(caller('A', 'abe'), `abe ${number}`);
    for (const number of [1, 2]) line.join(caller('B', 'bea'), `bea ${number}`);
    expect(line.length).toBe(8);
    expect(drain(line)).toEqual(['ann 1', 'bea 1', 'abe 1', 'bea 2', 'ann 2', 'abe 2', 'ann 3', 'ann 4']);
    expect(line.length).toBe(0);
  });

  it('three hundred of one person keep another organisation waiting for none but what has begun', () => {
    const line = new FairLine<string>(BOUNDS);
    for (let number = 0; number < 300; number += 1) line.join(caller('A', 'ann'), `ann ${number}`);
    expect(line.take()).toBe('ann 0');
    line.join(caller('B', 'bea'), 'bea');
    expect([line.take(), line.take()]).toEqual(['bea', 'ann 1']);
  });

  it('those who ask again and again, one at a time, push nobody back', () => {
    const line = new FairLine<string>(BOUNDS);
    for (const number of [1, 2]) line.join(caller('A', 'ann'), `ann ${number}`);
    const taken: (string | undefined)[] = [];
    for (let round = 0; round < 2; round += 1) {
      line.join(caller('B', 'bea'), `bea ${round}`);
      line.join(caller('C', 'cis'), `cis ${round}`);
      taken.push(line.take(), line.take(), line.take());
    }
    expect(taken).toEqual(['ann 1', 'bea 0', 'cis 0', 'ann 2', 'bea 1', 'cis 1']);
  });

  it('whom it has not seen for a thousand others it takes for new', () => {
    const line = new FairLine<number>({ person: 9, organisation: 9, all: 9 });
    for (let number = 0; number < 1100; number += 1) {
      line.join(caller(`organisation ${number}`, 'somebody'), number);
      expect(line.take()).toBe(number);
    }
    expect(line.length).toBe(0);
  });

  it('there is room for so many of a person, of an organisation, and in all; whoever is refused keeps no place', () => {
    const line = new FairLine<string>({ person: 2, organisation: 3, all: 4 });
    const joined = [
      line.join(caller('A', 'ann'), '1'),
      line.join(caller('A', 'ann'), '2'),
      line.join(caller('A', 'ann'), 'too many of Ann'),
      line.join(caller('A', 'abe'), '3'),
      line.join(caller('A', 'amy'), 'too many of A'),
      line.join(caller('B', 'bea'), '4'),
      line.join(caller('C', 'cis'), 'too many in all'),
    ];
    expect(joined).toEqual([true, true, false, true, false, true, false]);
    expect(drain(line)).toEqual(['1', '4', '3', '2']);
  });

  it('what has left is not taken, and makes room', () => {
    const line = new FairLine<string>({ person: 2, organisation: 2, all: 2 });
    line.join(caller('A', 'ann'), '1');
    line.join(caller('A', 'ann'), '2');
    line.leave(caller('A', 'ann'), '1');
    line.leave(caller('A', 'ann'), 'never there');
    line.leave(caller('B', 'bea'), '2');
    expect(line.join(caller('B', 'bea'), '3')).toBe(true);
    line.leave(caller('B', 'bea'), '3');
    expect(drain(line)).toEqual(['2']);
  });
});
