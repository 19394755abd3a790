import { fromWallClock, toEndOfDay } from './zoned-day';

describe('fromWallClock', () => {
  it('reads a wall clock in its own zone, summer and winter', () => {
    expect(fromWallClock('2026-07-01T12:00:00', 'Europe/Lisbon')).toBe('2026-07-01T11:00:00.000Z');
    expect(fromWallClock('2026-12-01T12:00:00', 'Europe/Lisbon')).toBe('2026-12-01T12:00:00.000Z');
    expect(fromWallClock('2026-12-01T12:00:00', 'America/Chicago')).toBe('2026-12-01T18:00:00.000Z');
  });

  it('is right on both sides of a clock change', () => {
    // Clocks in Lisbon go forward at 01:00 on 29 March 2026 (last Sunday of March; rule of the EU, from memory).
    expect(fromWallClock('2026-03-29T00:30:00', 'Europe/Lisbon')).toBe('2026-03-29T00:30:00.000Z');
    expect(fromWallClock('2026-03-29T02:30:00', 'Europe/Lisbon')).toBe('2026-03-29T01:30:00.000Z');
  });
});

describe('toEndOfDay', () => {
  it('is the last second of the day where it is lived', () => {
    expect(toEndOfDay('2026-09-30', 'Europe/Madrid')).toBe('2026-09-30T21:59:59.000Z');
  });
});
