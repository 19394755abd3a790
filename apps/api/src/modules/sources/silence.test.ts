import fc from 'fast-check';
import { judgeSilence, type MachineHearing } from './silence.js';

const HOUR = 3_600_000;
const at = (hours: number): number => hours * HOUR;
const hearing = (
  reportedUntil: number | null,
  heardAt: number,
  more: Partial<MachineHearing> = {},
): MachineHearing => ({
  machineId: 'm',
  customerId: 'c',
  reportedUntilMs: reportedUntil === null ? null : at(reportedUntil),
  silentSinceMs: null,
  isTold: false,
  source: { id: 's', name: 'Gateway 1', heardAtMs: at(heardAt), mappedAtMs: at(1), silentAfterS: 7200 },
  ...more,
});

describe('The silence of a machine', () => {
  it('begins when nothing has come for as long as its source allows, from the end of its last interval', () => {
    expect(judgeSilence(hearing(10, 10), at(11.9))).toEqual({
      silentSinceMs: null,
      isTold: false,
      dueAtMs: at(12),
      issues: [{ about: 'source', isOver: true }],
    });
    expect(judgeSilence(hearing(10, 11), at(12))).toMatchObject({ silentSinceMs: at(10) });
  });

  it('of one that never reported begins when a source was to report of it', () => {
    expect(judgeSilence(hearing(null, 2), at(2.9)).silentSinceMs).toBeNull();
    expect(judgeSilence(hearing(null, 2), at(3)).silentSinceMs).toBe(at(1));
  });

  it('is its own where the gateway has sent since, the gateway’s where that is silent too, and neither before it is sure', () => {
    expect(judgeSilence(hearing(10, 11.5), at(12.1)).issues).toEqual([{ about: 'source', isOver: true }]);
    expect(judgeSilence(hearing(10, 12.05), at(12.1))).toMatchObject({
      isTold: true,
      issues: [
        { about: 'source', isOver: true },
        { about: 'machine', isOver: false },
      ],
    });
    // Of the gateway it is said for all its machines at once: none of them has been told of.
    expect(judgeSilence(hearing(10, 10.1), at(12.1))).toMatchObject({
      isTold: false,
      issues: [{ about: 'source', isOver: false }],
    });
  });

  it('of the gateway ends when that sends again, and is the machine’s own from then on if it still says nothing of it', () => {
    const whole = { silentSinceMs: at(10), isTold: false };
    expect(judgeSilence(hearing(10, 10.1, whole), at(13)).issues).toEqual([{ about: 'source', isOver: false }]);
    expect(judgeSilence(hearing(10, 13.9, whole), at(14))).toMatchObject({
      isTold: true,
      issues: [
        { about: 'source', isOver: true },
        { about: 'machine', isOver: false },
      ],
    });
    // It reports of the machine again: only the gateway was ever told of.
    expect(judgeSilence(hearing(13.9, 13.9, whole), at(14))).toMatchObject({
      silentSinceMs: null,
      issues: [{ about: 'source', isOver: true }],
    });
    // It may be quiet for longer by now.
    const { source } = hearing(10, 10.1);
    const patient = { ...whole, source: source && { ...source, silentAfterS: 86_400 } };
    expect(judgeSilence(hearing(10, 10.1, patient), at(13)).issues).toEqual([{ about: 'source', isOver: true }]);
  });

  it('is told once, and is over when reports come again, or when nothing is to report of it any more', () => {
    const after = { silentSinceMs: at(10), isTold: true };
    expect(judgeSilence(hearing(10, 13, after), at(14))).toMatchObject({
      isTold: true,
      issues: [{ about: 'source', isOver: true }],
    });
    expect(judgeSilence(hearing(13.5, 13.6, after), at(14))).toMatchObject({
      silentSinceMs: null,
      isTold: false,
      issues: [
        { about: 'source', isOver: true },
        { about: 'machine', isOver: true },
      ],
    });
    expect(judgeSilence(hearing(10, 13, { ...after, source: null }), at(14)).issues).toEqual([
      { about: 'machine', isOver: true },
    ]);
  });

  it('never ends by later time alone, and is looked at again within a day', () => {
    fc.assert(
      fc.property(
        fc.option(fc.integer({ min: 0, max: 40 })),
        fc.integer({ min: 0, max: 40 }),
        fc.integer({ min: 0, max: 80 }),
        fc.integer({ min: 0, max: 20 }),
        (reported, heard, now, later) => {
          const [first, second] = [now, now + later].map((hours) => judgeSilence(hearing(reported, heard), at(hours)));
          if (first?.silentSinceMs !== null) expect(second?.silentSinceMs).toBe(first?.silentSinceMs);
          expect((first?.dueAtMs ?? 0) > at(now)).toBe(true);
        },
      ),
    );
  });
});
