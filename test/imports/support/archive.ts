import { crc32, deflateRawSync } from 'node:zlib';

interface Entry {
  readonly name: string;
  readonly bytes: Buffer;
}

/** Its local part, and its line of the directory. */
function pack({ name, bytes }: Entry, offset: number): { local: Buffer; line: Buffer } {
  const packed = deflateRawSync(bytes);
  const called = Buffer.from(name);
  const about = Buffer.alloc(22);
  about.writeUInt16LE(8, 4);
  about.writeUInt32LE(crc32(bytes), 10);
  about.writeUInt32LE(packed.length, 14);
  about.writeUInt32LE(bytes.length, 18);
  const tail = Buffer.alloc(4);
  tail.writeUInt16LE(called.length);
  const begin = (signature: number, length: number): Buffer => {
    const start = Buffer.alloc(length);
    start.writeUInt32LE(signature);
    return start;
  };
  const place = Buffer.alloc(14);
  place.writeUInt32LE(offset, 10);
  return {
    local: Buffer.concat([begin(0x04034b50, 4), about, tail, called, packed]),
    line: Buffer.concat([begin(0x02014b50, 6), about, tail, place, called]),
  };
}

/** An archive as an honest program writes it, whatever its entries hold. */
export function anArchive(entries: readonly Entry[]): Buffer {
  const locals: Buffer[] = [];
  const lines: Buffer[] = [];
  let offset = 0;
  for (const entry of entries) {
    const { local, line } = pack(entry, offset);
    locals.push(local);
    lines.push(line);
    offset += local.length;
  }
  const directory = Buffer.concat(lines);
  const end = Buffer.alloc(22);
  end.writeUInt32LE(0x06054b50);
  end.writeUInt16LE(entries.length, 8);
  end.writeUInt16LE(entries.length, 10);
  end.writeUInt32LE(directory.length, 12);
  end.writeUInt32LE(offset, 16);
  return Buffer.concat([...locals, directory, end]);
}

const HEAD = '<?xml version="1.0" encoding="UTF-8"?>';
const SCHEMA = 'http://schemas.openxmlformats.org';
const RELATION = `${SCHEMA}/officeDocument/2006/relationships`;

/** A workbook with one sheet whose rows are these, and behind them its merged ranges, as they stand in its XML. */
export function aWorkbook(rows: readonly Buffer[], merged: readonly string[] = []): Buffer {
  const relations = (id: string, type: string, target: string): string =>
    `${HEAD}<Relationships xmlns="${SCHEMA}/package/2006/relationships"><Relationship Id="${id}" Type="${RELATION}/${type}" Target="${target}"/></Relationships>`;
  const main = `xmlns="${SCHEMA}/spreadsheetml/2006/main"`;
  const texts = {
    '_rels/.rels': relations('r1', 'officeDocument', 'xl/workbook.xml'),
    'xl/workbook.xml': `${HEAD}<workbook ${main} xmlns:r="${RELATION}"><sheets><sheet name="Sheet" sheetId="1" r:id="r1"/></sheets></workbook>`,
    'xl/_rels/workbook.xml.rels': relations('r1', 'worksheet', 'worksheets/sheet1.xml'),
  };
  const begin = Buffer.from(`${HEAD}<worksheet ${main}><sheetData>`);
  const ranges = merged.map((range) => `<mergeCell ref="${range}"/>`).join('');
  const behind = merged.length === 0 ? '' : `<mergeCells count="${merged.length}">${ranges}</mergeCells>`;
  const sheet = Buffer.concat([begin, ...rows, Buffer.from(`</sheetData>${behind}</worksheet>`)]);
  return anArchive([
    ...Object.entries(texts).map(([name, text]) => ({ name, bytes: Buffer.from(text) })),
    { name: 'xl/worksheets/sheet1.xml', bytes: sheet },
  ]);
}
