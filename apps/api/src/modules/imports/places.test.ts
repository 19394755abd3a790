import { readPlaced } from './cut-places.js';
import { readPlaces } from './places.js';

describe('places of a cell', () => {
  it('are those that the door takes', () => {
    expect(readPlaces('10 mm, 20 mm, 0 mm toward 0, 0, -1')?.places).toHaveLength(1);
    for (const impossible of [
      '20 km, 0 mm, 0 mm toward 0, 0, 1',
      '1 mm, 0 mm, 0 mm toward 1e308, 1e308, 0',
      '1 mm, 0 mm, 0 mm toward 1e-300, 0, 0',
      '1e-300 mm, 0 mm, 0 mm toward 0, 0, 1',
      '1 mm, 0 mm, 0 mm toward 0, 0, 0',
    ]) {
      expect([impossible, readPlaces(impossible)]).toEqual([impossible, null]);
    }
  });
});

it('a cell that names none is looked at once, however long it is', () => {
  const began = performance.now();
  for (const text of [`4${' '.repeat(19_990)}mm`, ' toward '.repeat(2_400), `4${'\u00a0'.repeat(19_990)}x`]) {
    expect(readPlaces(text)).toBeNull();
    expect(readPlaced(text, { type: 'points', label: 'Points', most: 100 })).toBeNull();
  }
  expect(performance.now() - began).toBeLessThan(150);
});
