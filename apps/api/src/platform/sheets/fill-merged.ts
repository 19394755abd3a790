import { LIMITS, UnreadableFile, type Sheet } from './sheet-model.js';

const columnIndex = (letters: string): number =>
  [...letters].reduce((sum, letter) => sum * 26 + letter.charCodeAt(0) - 64, 0) - 1;

/** Merged ranges of a sheet may hold so many cells, and so many more for each cell that it has: lists that people keep, few times over. */
const MERGED_AT_LEAST = 100_000;
const MERGED_EACH = 10;

/**
 * Gives every cell of a merged range the value of its first one, in rows and columns where the sheet has cells. A range takes a few bytes
 * in a file and may span every cell of a sheet, and ranges may lie over each other: what is written counts as cells of the file.
 * @throws UnreadableFile
 */
export function fillMerged(sheet: Sheet, count: { cells: number }): void {
  if (sheet.merged.length === 0) return;
  const byNumber = new Map(sheet.rows.map((row) => [row.n, row]));
  const last = sheet.rows.at(-1)?.n ?? 0;
  const [cells, width] = sheet.rows.reduce(
    ([sum, widest], row) => [sum + row.cells.length, Math.max(widest, row.cells.length)],
    [0, 0],
  );
  const most = Math.min(LIMITS.cells, count.cells + MERGED_AT_LEAST + MERGED_EACH * cells);
  for (const range of sheet.merged) {
    const hit = /^([A-Z]+)(\d+):([A-Z]+)(\d+)$/.exec(range);
    if (hit === null) continue;
    const [left, right] = [columnIndex(String(hit[1])), Math.min(columnIndex(String(hit[3])), width - 1)];
    const [top, bottom] = [Number(hit[2]), Math.min(Number(hit[4]), last)];
    count.cells += Math.max(0, bottom - top + 1) * Math.max(0, right - left + 1);
    if (count.cells > most) throw new UnreadableFile('too-many-cells', { limit: most });
    const value = byNumber.get(top)?.cells[left] ?? null;
    for (let n = top; n <= bottom; n += 1) {
      const row = byNumber.get(n);
      if (row === undefined) continue;
      for (let column = left; column <= right; column += 1) {
        while (row.cells.length <= column) row.cells.push(null);
        row.cells[column] = value;
      }
    }
  }
}
