import { Readable } from 'node:stream';

/** What is written at once: others are answered in between. */
const PIECE_BYTES = 64 * 1024;

/** An answer that a thread has written as JSON already: long ones are neither checked nor written again where others wait. */
export class ReadyJson {
  constructor(private readonly bytes: Uint8Array) {}

  get length(): number {
    return this.bytes.length;
  }

  /** The bytes; long ones piece by piece. */
  toPayload(): Buffer | Readable {
    const { buffer, byteOffset, length } = this.bytes;
    const whole = Buffer.from(buffer, byteOffset, length);
    if (length <= PIECE_BYTES) return whole;
    const count = Math.ceil(length / PIECE_BYTES);
    return Readable.from(
      Array.from({ length: count }, (_, index) => whole.subarray(index * PIECE_BYTES, (index + 1) * PIECE_BYTES)),
      { objectMode: false, highWaterMark: PIECE_BYTES },
    );
  }
}
