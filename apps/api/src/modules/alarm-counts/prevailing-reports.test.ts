import fc from 'fast-check';
import { conflictKey, prevailingOf, type Report } from './prevailing-reports.js';

const CIRCUIT = 'c';

/** Stored reports are told apart by what they say; the smallest delivery id is kept. */
function store(reports: readonly Report[]): Report[] {
  const kept = new Map<string, Report>();
  for (const report of reports) {
    const key = [report.fromMs, report.toMs, report.revision, report.numbersHash].join();
    const before = kept.get(key);
    const isSmaller =
      before === undefined ||
      [report.webhookId, report.sourceId].join('\n') < [before.webhookId, before.sourceId].join('\n');
    if (isSmaller) kept.set(key, report);
  }
  return [...kept.values()];
}

const reportArbitrary: fc.Arbitrary<Report> = fc
  .record({
    fromMs: fc.integer({ min: 0, max: 12 }),
    length: fc.integer({ min: 1, max: 4 }),
    revision: fc.integer({ min: 0, max: 2 }),
    numbersHash: fc.constantFrom('1', '2'),
    webhookId: fc.constantFrom('a', 'b', 'c', 'd'),
    sourceId: fc.constantFrom('s', 't'),
  })
  .map(({ length, ...rest }) => ({ ...rest, toMs: rest.fromMs + length, chosenAtMs: null }));

const summary = (reports: readonly Report[]) => {
  const { prevailing, conflicts } = prevailingOf(reports);
  return {
    prevailing: [...prevailing].map((report) => JSON.stringify(report)).sort(),
    conflicts: conflicts
      .map((one) => `${conflictKey(CIRCUIT, one)} ${one.isSuperseded} ${JSON.stringify(one.reports)}`)
      .sort(),
  };
};

/** The rule said again, slowly, without a thought for how it is done: for each candidate, is there a better one in its way? */
function prevailingSlowly(all: readonly Report[]): string[] {
  const best = all.filter((report) =>
    all.every((other) => {
      if (other.fromMs !== report.fromMs || other.toMs !== report.toMs || other === report) return true;
      if (other.revision !== report.revision) return other.revision < report.revision;
      return rank(report) < rank(other);
    }),
  );
  best.sort((a, b) => (rank(a) < rank(b) ? -1 : 1));
  const prevailing: Report[] = [];
  for (const report of best) {
    if (!prevailing.some((one) => one.fromMs < report.toMs && report.fromMs < one.toMs)) prevailing.push(report);
  }
  return prevailing.map((report) => JSON.stringify(report)).sort();
}
const pad = (value: number): string => String(value).padStart(3, '0');
const rank = (report: Report): string =>
  [report.webhookId, report.sourceId, pad(report.fromMs), pad(report.toMs), report.numbersHash].join('|');

const at = (fromMs: number, toMs: number, webhookId: string, more: Partial<Report> = {}): Report => ({
  fromMs,
  toMs,
  webhookId,
  revision: 1,
  numbersHash: '1',
  sourceId: 's',
  chosenAtMs: null,
  ...more,
});

describe('What prevails among all reports of a circuit', () => {
  it('is the same in any order, with repetitions, and is what the rule says', () => {
    fc.assert(
      fc.property(
        fc.array(reportArbitrary, { maxLength: 14 }).chain((reports) =>
          fc.record({
            reports: fc.constant(reports),
            shuffled: fc
              .array(fc.constantFrom(...(reports.length === 0 ? [at(0, 1, 'a')] : reports)), { maxLength: 6 })
              .chain((again) =>
                fc.shuffledSubarray([...reports, ...(reports.length === 0 ? [] : again)], {
                  minLength: reports.length + (reports.length === 0 ? 0 : again.length),
                }),
              ),
          }),
        ),
        ({ reports, shuffled }) => {
          expect(summary(store(shuffled))).toEqual(summary(store(reports)));
          expect(summary(store(reports)).prevailing).toEqual(prevailingSlowly(store(reports)));
        },
      ),
      { numRuns: 2000 },
    );
  });

  it('never overlaps itself, and leaves out only what is superseded or in conflict', () => {
    fc.assert(
      fc.property(fc.array(reportArbitrary, { maxLength: 14 }), (some) => {
        const reports = store(some);
        const { prevailing, conflicts } = prevailingOf(reports);
        const kept = [...prevailing];
        for (const report of kept) {
          for (const other of kept) {
            expect(report === other || report.toMs <= other.fromMs || other.toMs <= report.fromMs).toBe(true);
          }
        }
        const disputed = new Set(conflicts.flatMap((conflict) => conflict.reports as readonly Report[]));
        for (const report of reports) {
          if (prevailing.has(report) || disputed.has(report)) continue;
          const higher = reports.some(
            (other) => other.fromMs === report.fromMs && other.toMs === report.toMs && other.revision > report.revision,
          );
          expect(higher).toBe(true);
        }
      }),
    );
  });

  it('can be told for a part that touches no other without looking at the rest', () => {
    fc.assert(
      fc.property(
        fc.array(reportArbitrary, { maxLength: 10 }),
        fc.array(reportArbitrary, { maxLength: 10 }),
        (a, b) => {
          const left = store(a);
          const right = store(b.map((report) => ({ ...report, fromMs: report.fromMs + 100, toMs: report.toMs + 100 })));
          const together = prevailingOf([...left, ...right]).prevailing;
          const apart = new Set([...prevailingOf(left).prevailing, ...prevailingOf(right).prevailing]);
          expect(together).toEqual(apart);
        },
      ),
    );
  });

  it('is the highest revision of an interval, whoever sent it', () => {
    const [old, revised] = [at(0, 4, 'a'), at(0, 4, 'z', { revision: 2, numbersHash: '2' })];
    expect([...prevailingOf([old, revised]).prevailing]).toEqual([revised]);
    expect(prevailingOf([old, revised]).conflicts).toEqual([]);
  });

  it('is the delivery with the smaller id where one revision has two numbers, until a person chooses', () => {
    const [a, b] = [at(0, 4, 'a'), at(0, 4, 'b', { numbersHash: '2' })];
    expect([...prevailingOf([b, a]).prevailing]).toEqual([a]);
    expect(prevailingOf([b, a]).conflicts).toEqual([
      { kind: 'same-revision', reports: [a, b], isSuperseded: false, isMany: false },
    ]);
    const chosen = { ...b, chosenAtMs: 9 };
    expect([...prevailingOf([a, chosen]).prevailing]).toEqual([chosen]);
    const later = at(0, 4, 'c', { revision: 2 });
    expect(prevailingOf([a, chosen, later]).conflicts).toMatchObject([{ kind: 'same-revision', isSuperseded: true }]);
  });

  it('keeps a choice between overlapping intervals when the chosen one is revised', () => {
    const day = at(0, 24, 'a');
    const hour = at(3, 4, 'b', { chosenAtMs: 5 });
    const revised = at(3, 4, 'c', { revision: 2, numbersHash: '7' });
    expect([...prevailingOf([day, hour]).prevailing]).toEqual([hour]);
    expect([...prevailingOf([day, hour, revised]).prevailing]).toEqual([revised]);
  });

  it('tells many overlaps of one stretch as one: two hundred million pairs are not counted out', () => {
    const nested = Array.from({ length: 20_000 }, (_, n) => at(0, n + 1, `a${n}`));
    const apart = at(30_000, 30_001, 'b');
    const pair = [at(40_000, 40_002, 'c'), at(40_001, 40_003, 'd')];
    const { conflicts } = prevailingOf([...nested, apart, ...pair].reverse());
    expect(conflicts.map((one) => [one.isMany, one.reports.length])).toEqual([
      [true, 20_000],
      [false, 2],
    ]);
    expect(conflicts.map((one) => conflictKey(CIRCUIT, one))).toEqual([
      'overlap c together 0',
      'overlap c 40000 40002 40001 40003',
    ]);
  });

  it('tells up to twenty overlaps one by one', () => {
    // A long interval with n short ones in it overlaps each of them.
    const around = (n: number) => [at(0, 100, 'a'), ...Array.from({ length: n }, (_, k) => at(k, k + 1, 'b'))];
    expect(prevailingOf(around(20)).conflicts.map(({ isMany }) => isMany)).toEqual(Array(20).fill(false));
    expect(prevailingOf(around(21)).conflicts.map(({ isMany }) => isMany)).toEqual([true]);
  });

  it('tells many other numbers between the same deliveries as one, and those between others apart', () => {
    const both = (webhookId: string, from: number, count: number) =>
      Array.from({ length: count }, (_, n) => [
        at(from + n, from + n + 1, 'a'),
        at(from + n, from + n + 1, webhookId, { numbersHash: '2' }),
      ]).flat();
    const reports = [...both('b', 0, 30), ...both('c', 100, 3)];
    const { conflicts } = prevailingOf(reports);
    expect(conflicts.map((one) => [one.isMany, one.reports.length])).toEqual([
      [true, 60],
      [false, 2],
      [false, 2],
      [false, 2],
    ]);
    const keys = (all: readonly Report[]) => prevailingOf(all).conflicts.map((one) => conflictKey(CIRCUIT, one));
    expect(keys(reports.toReversed()).sort()).toEqual(keys(reports).sort());
  });

  it('takes neighbours that only touch', () => {
    const [a, b] = [at(0, 4, 'a'), at(4, 8, 'b')];
    expect(prevailingOf([a, b])).toEqual({ prevailing: new Set([a, b]), conflicts: [] });
  });
});
