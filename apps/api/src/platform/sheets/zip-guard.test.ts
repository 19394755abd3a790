import { deflateRawSync } from 'node:zlib';
import { UnreadableFile } from './sheet-model.js';
import { assertHarmlessZip } from './zip-guard.js';

interface Entry {
  readonly name: string;
  readonly bytes: Buffer;
}

/** Its local part, and its line of the directory: both as an honest program writes them. */
function pack({ name, bytes }: Entry, offset: number): { local: Buffer; line: Buffer } {
  const packed = deflateRawSync(bytes);
  const called = Buffer.from(name);
  const local = Buffer.alloc(30);
  local.writeUInt32LE(0x04034b50, 0);
  local.writeUInt16LE(8, 8);
  local.writeUInt32LE(packed.length, 18);
  local.writeUInt32LE(bytes.length, 22);
  local.writeUInt16LE(called.length, 26);
  const line = Buffer.alloc(46);
  line.writeUInt32LE(0x02014b50, 0);
  line.writeUInt16LE(8, 10);
  line.writeUInt32LE(packed.length, 20);
  line.writeUInt32LE(bytes.length, 24);
  line.writeUInt16LE(called.length, 28);
  line.writeUInt32LE(offset, 42);
  return { local: Buffer.concat([local, called, packed]), line: Buffer.concat([line, called]) };
}

/** An archive whose end may say something else of its directory than what is there. */
function archive(entries: readonly Entry[], claims: { count?: number; size?: number; disk?: number } = {}): Buffer {
  const locals: Buffer[] = [];
  const lines: Buffer[] = [];
  for (const entry of entries) {
    const { local, line } = pack(entry, Buffer.concat(locals).length);
    locals.push(local);
    lines.push(line);
  }
  const body = Buffer.concat(locals);
  const directory = Buffer.concat(lines);
  const end = Buffer.alloc(22);
  end.writeUInt32LE(0x06054b50, 0);
  end.writeUInt16LE(claims.disk ?? 0, 4);
  end.writeUInt16LE(claims.count ?? entries.length, 8);
  end.writeUInt16LE(claims.count ?? entries.length, 10);
  end.writeUInt32LE(claims.size ?? directory.length, 12);
  end.writeUInt32LE(body.length, 16);
  return Buffer.concat([body, directory, end]);
}

const small: Entry = { name: 'a.xml', bytes: Buffer.from('<a/>') };
const large: Entry = { name: 'b.xml', bytes: Buffer.alloc(200_000, 'b') };

const codeOf = (bytes: Buffer): string => {
  try {
    assertHarmlessZip(bytes);
  } catch (error) {
    if (error instanceof UnreadableFile) return error.code;
    throw error;
  }
  return 'harmless';
};

describe('what an archive says of itself', () => {
  it('is taken where it is true', () => {
    expect(codeOf(archive([small, large]))).toBe('harmless');
    expect(codeOf(archive([]))).toBe('harmless');
  });

  // Readers of archives go on while there are lines: what its end does not count would be unpacked unseen.
  it.each([
    ['fewer entries than there are', { count: 1 }],
    ['none', { count: 0 }],
    ['more entries than there are', { count: 3 }],
  ])('%s: refused', (_name, claims) => {
    expect(codeOf(archive([small, large], claims))).toBe('archive-damaged');
  });

  // Where both do not meet, readers take another place for the beginning of the file, and find another directory.
  it.each([
    ['shorter', { size: 20 }],
    ['longer', { size: 2_000 }],
  ])('a directory that is %s than the way to the end: refused', (_name, claims) => {
    expect(codeOf(archive([small, large], claims))).toBe('archive-damaged');
  });

  it('a directory that is said to stand elsewhere: refused', () => {
    expect(codeOf(archive([small, large], { disk: 0xffff }))).toBe('archive-damaged');
  });

  it('an end that is none, behind one that is: refused', () => {
    const honest = archive([small]);
    expect(codeOf(Buffer.concat([honest, archive([large]).subarray(-22)]))).toBe('archive-damaged');
  });
});
