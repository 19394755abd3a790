import { gzipSync } from 'node:zlib';
import { monitorEventLoopDelay } from 'node:perf_hooks';
import { fillMerged } from './fill-merged.js';
import { packSheets, unpackInTurns, unpackSheets } from './packed-sheets.js';
import type { Sheet, SheetFile } from './sheet-model.js';

const sheetOf = (rows: Sheet['rows'], merged: string[] = []): Sheet => ({
  ...{ name: 'one', hidden: false, hiddenColumns: [], rows, merged },
});
const rowsOf = (count: number, cells: number): Sheet['rows'] =>
  Array.from({ length: count }, (_, n) => ({
    n: n + 1,
    cells: Array.from({ length: cells }, (_, i) => `r${n} c${i}`),
  }));

describe('a file that was read', () => {
  const file: SheetFile = {
    format: 'xlsx',
    notes: [{ code: 'dates-from-1904', params: {} }],
    sheets: [
      sheetOf([{ n: 1, hidden: true, cells: ['line\nbreak, "quoted"', null, { t: 'date', v: '2026-01-31' }] }]),
      sheetOf([]),
      sheetOf(rowsOf(3_000, 4), ['A1:A2']),
    ],
  };

  it('comes back as it was, in one go and in turns', async () => {
    expect(unpackSheets(packSheets(file))).toEqual(file);
    expect(await unpackInTurns(packSheets(file))).toEqual(file);
    const empty: SheetFile = { ...file, sheets: [sheetOf([])] };
    expect(unpackSheets(packSheets(empty))).toEqual(empty);
  });

  // One text of a workbook may stand in each of its cells: a file of 100 kB would be kept as a gigabyte.
  it('is not kept where its cells hold more text than is taken', () => {
    const text = 'x'.repeat(30_000);
    const rows = Array.from({ length: 4_000 }, (_, n) => ({ n: n + 1, cells: [text, text] }));
    expect(() => packSheets({ ...file, sheets: [sheetOf(rows)] })).toThrow('too-much-text');
    expect(unpackSheets(packSheets({ ...file, sheets: [sheetOf(rows.slice(0, 500))] })).sheets[0]?.rows.length).toBe(
      500,
    );
  });

  it('comes back with its merged cells filled when it was kept as one text', async () => {
    const kept = { ...file, sheets: [sheetOf(rowsOf(2, 2), ['A1:B2'])] };
    const { sheets } = await unpackInTurns(gzipSync(JSON.stringify(kept)));
    expect(sheets[0]?.rows.map(({ cells }) => cells)).toEqual([
      ['r0 c0', 'r0 c0'],
      ['r0 c0', 'r0 c0'],
    ]);
  });

  it('lets others be heard while a large one comes back', async () => {
    const packed = packSheets({ ...file, sheets: [sheetOf(rowsOf(30_000, 40))] });
    const hold = async (work: () => unknown): Promise<number> => {
      const delays = monitorEventLoopDelay({ resolution: 5 });
      delays.enable();
      await new Promise((resolve) => setTimeout(resolve, 20));
      await work();
      await new Promise((resolve) => setTimeout(resolve, 20));
      delays.disable();
      return delays.max / 1e6;
    };
    const inOneGo = await hold(() => unpackSheets(packed));
    expect(await hold(() => unpackInTurns(packed))).toBeLessThan(inOneGo / 2);
  });
});

describe('a merged range', () => {
  it('gives every cell the value of its first one', () => {
    const sheet = sheetOf(
      [
        { n: 1, cells: ['x', 'y'] },
        { n: 2, cells: [] },
      ],
      ['A1:B2'],
    );
    fillMerged(sheet, { cells: 0 });
    expect(sheet.rows.map(({ cells }) => cells)).toEqual([
      ['x', 'x'],
      ['x', 'x'],
    ]);
  });

  it('is filled where there are cells, however far it spans', () => {
    const count = { cells: 0 };
    const wide = sheetOf(
      [
        { n: 1, cells: ['x', 'y'] },
        { n: 2, cells: ['z'] },
      ],
      ['A1:XFD1048576'],
    );
    fillMerged(wide, count);
    expect(wide.rows.map(({ cells }) => cells)).toEqual([
      ['x', 'x'],
      ['x', 'x'],
    ]);
    expect(count.cells).toBe(4);
  });

  it.each([
    [
      'by many rows and columns of a small file',
      [{ n: 1, cells: Array.from({ length: 300 }, () => 1) }, ...rowsOf(20_000, 0).slice(1)],
      1,
    ],
    ['by ranges that lie over each other', rowsOf(20_000, 1), 30],
  ])('that is more than a file may have, %s, is not filled', (_how, rows, times) => {
    const count = { cells: 0 };
    const wide = sheetOf(
      rows,
      Array.from({ length: times }, () => 'A1:KN20000'),
    );
    expect(() => fillMerged(wide, count)).toThrow('too-many-cells');
    expect(count.cells).toBeGreaterThan(100_000);
    expect(wide.rows.at(-1)?.cells.length).toBeLessThan(2);
  });
});
