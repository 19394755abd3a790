import fc from 'fast-check';
import { applyRule } from './alarm-rule.js';

const HOUR = 3_600_000;
const hour = (at: number, count: number) => ({ fromMs: at * HOUR, toMs: (at + 1) * HOUR, count });
const RULE = { threshold: 4, windowMs: 3 * HOUR };

describe('An alarm rule', () => {
  it('opens at so many within a window, and not when they lie apart', () => {
    expect(applyRule(RULE, [hour(0, 2), hour(2, 2)])).toMatchObject({ isTripped: true, most: 4 });
    expect(applyRule(RULE, [hour(0, 2), hour(3, 2)])).toMatchObject({ isTripped: false, most: 2 });
    expect(applyRule(RULE, [{ fromMs: 0, toMs: 24 * HOUR, count: 4 }]).isTripped).toBe(true);
  });

  it('gathers evidence down to half of the threshold', () => {
    expect(applyRule(RULE, [hour(0, 2), hour(9, 1)]).evidence).toEqual([hour(0, 2)]);
  });

  it('does not open again by what was there when an issue was closed, however late it comes', () => {
    const counts = [hour(0, 9), hour(1, 9)];
    expect(applyRule(RULE, counts, { closedAtMs: 2 * HOUR }).isTripped).toBe(false);
    expect(applyRule(RULE, [...counts, hour(2, 4)], { closedAtMs: 2 * HOUR })).toEqual({
      isTripped: true,
      most: 4,
      evidence: [hour(2, 4)],
    });
  });

  it('is not tripped by a window that ended before what is looked at', () => {
    const counts = [hour(0, 9), hour(8, 1), hour(9, 2)];
    expect(applyRule(RULE, counts, { sinceMs: 7 * HOUR })).toMatchObject({ isTripped: false, most: 9 });
    expect(applyRule(RULE, [...counts, hour(10, 1)], { sinceMs: 7 * HOUR }).isTripped).toBe(true);
  });

  it('says the same in any order, and agrees with counting every window', () => {
    const count = fc.record({ at: fc.integer({ min: 0, max: 40 }), count: fc.integer({ min: 0, max: 3 }) });
    fc.assert(
      fc.property(fc.uniqueArray(count, { selector: (one) => one.at }), (some) => {
        const rows = some.map((one) => hour(one.at, one.count));
        const most = Math.max(
          0,
          ...rows.map((end) =>
            rows
              .filter((one) => one.toMs <= end.toMs && one.toMs > end.toMs - RULE.windowMs)
              .reduce((sum, one) => sum + one.count, 0),
          ),
        );
        expect(applyRule(RULE, rows).most).toBe(most);
        expect(applyRule(RULE, [...rows].reverse())).toEqual(applyRule(RULE, rows));
      }),
    );
  });
});
