import type { AlarmEvidence } from '@repo/contracts';
import { gatherEvidence, reachOf, type Looked } from './alarm-evidence.js';

const HOUR_MS = 3_600_000;
const SOURCE = '00000000-0000-7000-8000-000000000002';
const rule = { circuitId: 'c', alarmKind: null, threshold: 4, windowS: 3600 };
const hour = (n: number, count: number) => ({
  circuitId: 'c',
  sourceId: SOURCE,
  fromMs: n * HOUR_MS,
  toMs: (n + 1) * HOUR_MS,
  alarms: { 'low-air': count },
});
const looked = (...counts: Looked['counts']): Looked => ({
  rule,
  reach: reachOf(rule, counts),
  receivedMs: 6 * HOUR_MS,
  counts,
});
const interval = (n: number, count: number) => ({
  from: new Date(n * HOUR_MS).toISOString(),
  to: new Date((n + 1) * HOUR_MS).toISOString(),
  count,
  sourceId: SOURCE,
});

describe('The evidence of an alarm rule', () => {
  it('is none while nothing is open and the rule has not tripped', () => {
    expect(gatherEvidence(looked(hour(5, 3)), null, null)).toBeNull();
    expect(gatherEvidence(looked(hour(5, 4)), null, 6 * HOUR_MS)).toBeNull();
    expect(gatherEvidence(looked(hour(5, 4)), null, null)).toEqual({
      evidence: {
        rule: { alarmKind: null, threshold: 4, windowS: 3600 },
        total: 4,
        most: 4,
        intervals: [interval(5, 4)],
      },
      most: 4,
      sourceId: SOURCE,
    });
  });

  it('keeps what an open issue had beyond reach, and the rule by which it was opened; within reach it is what prevails now', () => {
    const before: AlarmEvidence = {
      rule: { alarmKind: 'low-air', threshold: 9, windowS: 60 },
      total: 12,
      most: 9,
      intervals: [interval(0, 9), interval(5, 3)],
    };
    const found = gatherEvidence(looked(hour(5, 2)), { evidence: before }, null);
    expect(found?.evidence).toEqual({ ...before, total: 11, intervals: [interval(0, 9), interval(5, 2)] });
  });

  it('is none of what ended longer ago than the window before it was received', () => {
    expect(gatherEvidence({ ...looked(hour(5, 9)), receivedMs: 7 * HOUR_MS }, null, null)).not.toBeNull();
    expect(gatherEvidence({ ...looked(hour(5, 9)), receivedMs: 7 * HOUR_MS + 1 }, null, null)).toBeNull();
  });

  it('loses its fullest window to a downward revision, and keeps a neighbour that another window still fills', () => {
    const wide = { ...rule, windowS: 7200 };
    const before: AlarmEvidence = {
      rule: { alarmKind: null, threshold: 4, windowS: 7200 },
      total: 12,
      most: 10,
      intervals: [interval(3, 1), interval(4, 1), interval(5, 9), interval(6, 1)],
    };
    // The hour of nine alarms is revised to none; the two before it fill a window of their own to half.
    const reach = reachOf(wide, [hour(5, 0)]);
    const counts = [hour(3, 1), hour(4, 1), hour(6, 1)];
    expect(reach.seen.fromMs).toBe(HOUR_MS);
    const found = gatherEvidence({ rule: wide, reach, receivedMs: 7 * HOUR_MS, counts }, { evidence: before }, null);
    expect(found?.evidence).toMatchObject({ total: 2, most: 2, intervals: [interval(3, 1), interval(4, 1)] });
  });

  it('begins anew where what is stored cannot be read', () => {
    const found = gatherEvidence(looked(hour(5, 2)), { evidence: { rule: {} } }, null);
    expect(found?.evidence).toMatchObject({ total: 2, rule: { threshold: 4 }, intervals: [interval(5, 2)] });
  });
});
