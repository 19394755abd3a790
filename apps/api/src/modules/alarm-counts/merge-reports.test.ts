import fc from 'fast-check';
import { foldReports, mergeReports, rangesOf, type IncomingReport } from './merge-reports.js';

const incoming: fc.Arbitrary<IncomingReport> = fc
  .record({
    fromMs: fc.nat(20),
    length: fc.integer({ min: 1, max: 4 }),
    revision: fc.nat(1),
    hash: fc.nat(1),
    id: fc.nat(3),
  })
  .map(({ fromMs, length, revision, hash, id }) => ({
    customerId: 'k',
    circuitId: 'c',
    sourceId: 's',
    webhookId: `m${id}`,
    fromMs,
    toMs: fromMs + length,
    revision,
    numbersHash: String(hash),
    clampCycles: hash,
    alarms: '{}',
    measures: null,
    chosenAtMs: null,
    prevails: true,
  }));

describe('New reports laid to those that are there', () => {
  it('come out the same by the short cut as by the fold', () => {
    fc.assert(
      fc.property(fc.array(incoming, { maxLength: 6 }), (reports) => {
        const rows = [...reports].sort((a, b) => a.fromMs - b.fromMs);
        expect(mergeReports([], rows)).toEqual(foldReports([], rows));
      }),
    );
  });

  it('come out the same in one delivery or in many', () => {
    fc.assert(
      fc.property(fc.array(incoming, { maxLength: 8 }), (reports) => {
        let stored = new Map<string, ReturnType<typeof foldReports>['insert'][number]>();
        for (const report of reports) {
          const { insert, update } = mergeReports([...stored.values()], [report]);
          stored = new Map(stored);
          for (const reportKept of [...insert, ...update]) {
            stored.set(
              [reportKept.fromMs, reportKept.toMs, reportKept.revision, reportKept.numbersHash].join(),
              reportKept,
            );
          }
        }
        const byText = (rows: readonly object[]) => rows.map((row) => JSON.stringify(row)).sort();
        expect(byText([...stored.values()])).toEqual(byText(foldReports([], reports).insert));
      }),
    );
  });

  it('ask for the stretches that they cover, each circuit for itself', () => {
    const range = (circuitId: string, fromMs: number, toMs: number) => ({ circuitId, fromMs, toMs });
    expect(
      rangesOf([range('a', 4, 6), range('a', 0, 4), range('b', 1, 2), range('a', 9, 10), range('a', 1, 2)]),
    ).toEqual([range('a', 0, 6), range('a', 9, 10), range('b', 1, 2)]);
  });
});
