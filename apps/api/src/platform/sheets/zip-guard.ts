import { inflateRawSync } from 'node:zlib';
import { LIMITS, UnreadableFile } from './sheet-model.js';

const END = 0x06054b50;
const ENTRY = 0x02014b50;
const STORED = 0;
const DEFLATED = 8;

const END_LENGTH = 22;
const LINE_LENGTH = 46;
/** Whatever an archive's end says so, stands elsewhere, in the larger form that no workbook of a size that is taken needs. */
const ELSEWHERE = { short: 0xffff, long: 0xffffffff };

/**
 * Refuses an archive that unpacks to more than it says, or to more than is taken, before anything is unpacked for good:
 * every entry is inflated once into a buffer of the size that it claims, and thrown away.
 */
export function assertHarmlessZip(bytes: Buffer): void {
  let total = 0;
  for (const entry of listEntries(bytes)) {
    total += entry.size;
    if (total > LIMITS.unpackedBytes) throw new UnreadableFile('too-large-unpacked', { limit: LIMITS.unpackedBytes });
    if (entry.method === STORED) continue;
    if (entry.method !== DEFLATED) throw new UnreadableFile('archive-method', { method: entry.method });
    try {
      const unpacked = inflateRawSync(entry.packed, { maxOutputLength: Math.max(1, entry.size) });
      if (unpacked.length !== entry.size) throw new UnreadableFile('archive-damaged', { entry: entry.name });
    } catch (error) {
      if (error instanceof UnreadableFile) throw error;
      const isLarger = error instanceof RangeError || (error as { code?: string }).code === 'ERR_BUFFER_TOO_LARGE';
      throw new UnreadableFile(isLarger ? 'archive-lies' : 'archive-damaged', { entry: entry.name });
    }
  }
}

/**
 * The lines of the directory. It must be what its end says it is: readers take lines as long as there are any, and look for the directory
 * elsewhere where its length does not reach its end, so that they would unpack what was not looked at here.
 */
function* listEntries(bytes: Buffer): Generator<{ name: string; method: number; size: number; packed: Buffer }> {
  const end = findEnd(bytes);
  const { count, start } = readEnd(bytes, end);
  if (count > LIMITS.zipEntries) throw new UnreadableFile('archive-entries', { limit: LIMITS.zipEntries });
  let at = start;
  for (let n = 0; n < count; n += 1) {
    if (at + LINE_LENGTH > end || bytes.readUInt32LE(at) !== ENTRY) throw new UnreadableFile('archive-damaged');
    if ((bytes.readUInt16LE(at + 8) & 1) === 1) throw new UnreadableFile('encrypted');
    const method = bytes.readUInt16LE(at + 10);
    const packedSize = bytes.readUInt32LE(at + 20);
    const size = bytes.readUInt32LE(at + 24);
    const nameLength = bytes.readUInt16LE(at + 28);
    const name = bytes.toString('utf8', at + LINE_LENGTH, at + LINE_LENGTH + nameLength);
    const local = bytes.readUInt32LE(at + 42);
    if (local + 30 > bytes.length) throw new UnreadableFile('archive-damaged');
    const from = local + 30 + bytes.readUInt16LE(local + 26) + bytes.readUInt16LE(local + 28);
    if (from + packedSize > bytes.length) throw new UnreadableFile('archive-damaged', { entry: name });
    yield { name, method, size, packed: bytes.subarray(from, from + packedSize) };
    at += LINE_LENGTH + nameLength + bytes.readUInt16LE(at + 30) + bytes.readUInt16LE(at + 32);
  }
  if (at !== end) throw new UnreadableFile('archive-damaged');
}

/** How many lines the directory has, and where it begins; it ends where its end begins. */
function readEnd(bytes: Buffer, end: number): { count: number; start: number } {
  const shorts = [4, 6, 8, 10].map((offset) => bytes.readUInt16LE(end + offset));
  const [size, start] = [bytes.readUInt32LE(end + 12), bytes.readUInt32LE(end + 16)];
  const isElsewhere = shorts.includes(ELSEWHERE.short) || [size, start].includes(ELSEWHERE.long);
  if (isElsewhere || start + size !== end) throw new UnreadableFile('archive-damaged');
  return { count: shorts[3] ?? 0, start };
}

function findEnd(bytes: Buffer): number {
  for (let at = bytes.length - END_LENGTH; at >= Math.max(0, bytes.length - 65_557); at -= 1) {
    if (bytes.readUInt32LE(at) === END) return at;
  }
  throw new UnreadableFile('archive-damaged');
}
