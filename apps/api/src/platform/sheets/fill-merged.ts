import { LIMITS, UnreadableFile, type Sheet } from './sheet-model.js';

const columnIndex = (letters: string): number =>
  [...letters].reduce((sum, letter) => sum * 26 + letter.charCodeAt(0) - 64, 0) - 1;

/**
 * Gives every cell of a merged range the value of its first one. A range takes a few bytes in a file and may span every cell of a sheet,
 * and ranges may lie over each other: what is written counts as cells of the file.
 * @throws UnreadableFile
 */
export function fillMerged(sheet: Sheet, count: { cells: number }): void {
  const byNumber = new Map(sheet.merged.length === 0 ? [] : sheet.rows.map((row) => [row.n, row]));
  const last = sheet.rows.at(-1)?.n ?? 0;
  for (const range of sheet.merged) {
    const hit = /^([A-Z]+)(\d+):([A-Z]+)(\d+)$/.exec(range);
    if (hit === null) continue;
    const [left, right] = [columnIndex(String(hit[1])), columnIndex(String(hit[3]))];
    const [top, bottom] = [Number(hit[2]), Math.min(Number(hit[4]), last)];
    count.cells += Math.max(0, bottom - top + 1) * Math.max(0, right + 1);
    if (count.cells > LIMITS.cells) throw new UnreadableFile('too-many-cells', { limit: LIMITS.cells });
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
