import { beginsAfter } from './period.js';

describe('What takes another’s place', () => {
  it('begins after it, not with it, in whatever zone the instant is written', () => {
    expect(beginsAfter('2026-11-25T09:00:01Z', '2026-11-25T09:00:00Z')).toBe(true);
    expect(beginsAfter('2026-11-25T10:00:00+01:00', '2026-11-25T09:00:00Z')).toBe(false);
    expect(beginsAfter(new Date('2026-11-25T08:00:00Z'), '2026-11-25T09:00:00Z')).toBe(false);
  });
});
