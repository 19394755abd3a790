import { chooseCoding } from './content-coding.js';

describe('chooseCoding', () => {
  it.each([
    [undefined, null],
    ['', null],
    ['identity', null],
    ['deflate, zstd', null],
    ['br', 'br'],
    ['gzip', 'gzip'],
    ['gzip, deflate, br, zstd', 'br'],
    ['GZIP', 'gzip'],
    ['br;q=0.5, gzip', 'gzip'],
    ['br;q=0, gzip;q=0.1', 'gzip'],
    ['br ; q=0 , gzip ; q=0', null],
    ['*', 'br'],
    ['*;q=0.5, br;q=0', 'gzip'],
    ['gzip, *;q=0', 'gzip'],
    ['*;q=0', null],
    ['identity;q=0, gzip;q=0.2', 'gzip'],
    ['identity, gzip;q=0.5', null],
    ['identity;q=0.5, gzip;q=0.5', 'gzip'],
    ['br;q=nonsense', 'br'],
  ])('%s: %s', (header, coding) => {
    expect(chooseCoding(header)).toBe(coding);
  });

  it('takes what there is', () => {
    expect(chooseCoding('br, gzip', ['gzip'])).toBe('gzip');
    expect(chooseCoding('br', ['gzip'])).toBeNull();
    expect(chooseCoding('br', [])).toBeNull();
  });
});
