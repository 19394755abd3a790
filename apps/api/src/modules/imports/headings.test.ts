import { describeFile } from './describe-file.js';
import { splitHeading, suggestFields } from './headings.js';

describe('the unit at the end of a heading', () => {
  it.each([
    ['Setting [bar]', 'Setting', 'bar'],
    ['pressure (psi) ', 'pressure', 'psi'],
    ['Setting\n(bar)', 'Setting', 'bar'],
    ['Oil (cold) [mm2/s]', 'Oil (cold)', 'mm2/s'],
    ['Rod (see (3)', 'Rod', 'see (3'],
    ['[bar]', '[bar]', null],
    ['Setting ()', 'Setting ()', null],
    ['Setting bar]', 'Setting bar]', null],
    ['  Setting ', 'Setting', null],
    [')', ')', null],
  ])('%j', (heading, name, unit) => {
    expect(splitHeading(heading)).toEqual({ name, unit });
  });

  // Each took 20 s and more, and stopped everything else, when it was looked for from every place.
  it.each(['(', '[', ' ', '( ', '\u00a0'])('is looked for once in a heading of many %j', (piece) => {
    const middle = piece.repeat(100_000);
    const began = performance.now();
    expect(splitHeading(`a${middle}b`)).toEqual({ name: `a${middle}b`, unit: null });
    expect(suggestFields([`a${middle}b`, 'Customer'], middle)).toEqual([null, 'customer.name']);
    expect(performance.now() - began).toBeLessThan(2_000);
  });
});

it('a sheet may be as long as a file may have rows', () => {
  const rows = Array.from({ length: 200_000 }, (_, index) => ({
    n: index + 1,
    cells: [index === 0 ? 'Customer' : 'A'],
  }));
  const sheet = { name: 'base', hidden: false, rows, hiddenColumns: [], merged: [] };
  const { reading } = describeFile({ format: 'csv', notes: [], sheets: [sheet] });
  expect(reading.sheets[0]).toMatchObject({ rows: 199_999, headerRow: 1 });
});
