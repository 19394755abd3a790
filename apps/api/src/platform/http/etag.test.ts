import { AppError } from '../errors/app-error.js';
import { versionFromIfMatch } from './etag.js';

describe('If-Match', () => {
  it('names one version, in the one form in which it was given', () => {
    expect(versionFromIfMatch('"v12"')).toBe(12);
    for (const other of ['*', '"v01"', 'W/"v1"', '"v1", "v2"', '"v"', '"v9999999999"', 'v1', '"v1e3"']) {
      expect(() => versionFromIfMatch(other)).toThrow(AppError);
    }
  });
});
