import { packSheets } from './packed-sheets.js';
import { readCsv } from './read-csv.js';
import { readXlsx } from './read-xlsx.js';
import { UnreadableFile } from './sheet-model.js';

/** Reads a CSV or XLSX file and packs what it holds; in a process of its own. */
export default async function readFileApart(given: { bytes: Uint8Array; name: string }): Promise<Uint8Array> {
  const buffer = Buffer.from(given.bytes);
  const isZip = buffer.length > 4 && buffer.readUInt32LE(0) === 0x04034b50;
  // The old binary workbook format, and encrypted new ones.
  if (buffer.length > 8 && buffer.readUInt32LE(0) === 0xe011cfd0) throw new UnreadableFile('old-format');
  const file = isZip ? await readXlsx(buffer) : readCsv(buffer, given.name);
  return packSheets(file);
}
