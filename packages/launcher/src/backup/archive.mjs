/// <reference path="./streams.d.ts" />
import fs from 'node:fs';
import { Readable } from 'node:stream';
import { createGunzip } from 'node:zlib';
import { Decrypter } from 'age-encryption';
import { extract as createExtract } from 'tar-stream';
import { errorCode, PlainError } from '../support/plain-error.mjs';

/** @typedef {import('node:stream/web').ReadableStream<Uint8Array>} WebStream */
/** @typedef {{ name: string, bytes: AsyncIterable<Uint8Array> }} ArchiveEntry */

const AGE = Buffer.from('age-encryption.org/');
const GZIP = Buffer.from([0x1f, 0x8b]);

/**
 * @param {string} file
 * @returns {boolean} whether it asks for a pass phrase
 * @throws {PlainError} when it is not there or no backup
 */
export function isEncrypted(file) {
  const start = readStart(file);
  if (start.subarray(0, AGE.length).equals(AGE)) return true;
  if (start.subarray(0, GZIP.length).equals(GZIP)) return false;
  throw new PlainError(`${file} is no backup of Kedge.`, 'Name a file that "npm run backup" has written.');
}

/**
 * The entries of a backup, one after the other; the bytes of one must be read before the next.
 * @param {string} file
 * @param {string | null} passphrase
 * @returns {AsyncGenerator<ArchiveEntry>}
 * @throws {PlainError} wrong pass phrase, damaged, or cut off
 */
export async function* readArchive(file, passphrase) {
  const extract = createExtract();
  const source = fs.createReadStream(file);
  const feeding = feed(source, passphrase, extract);
  // Heard below, where the loop ends with it: the other end was destroyed with the same error.
  feeding.catch(() => undefined);
  try {
    for await (const entry of extract) yield { name: entry.header.name, bytes: named(entry, file) };
    await feeding;
  } catch (error) {
    throw toArchiveError(error, file);
  } finally {
    // Whoever reads no further: the feeding notices, ends, and then nobody needs the file.
    extract.destroy();
    await feeding.catch(() => undefined);
    source.destroy();
  }
}

/**
 * @param {AsyncIterable<Uint8Array>} bytes
 * @param {string} file
 */
async function* named(bytes, file) {
  try {
    yield* bytes;
  } catch (error) {
    throw toArchiveError(error, file);
  }
}

/**
 * @param {Readable} source
 * @param {string | null} passphrase
 * @param {import('tar-stream').Extract} extract
 */
async function feed(source, passphrase, extract) {
  let goOn = () => {};
  extract.on('drain', () => goOn());
  extract.on('close', () => goOn());
  try {
    const packed = passphrase === null ? source : await decrypt(source, passphrase);
    const unpacked = createGunzip();
    packed.once('error', (error) => unpacked.destroy(error));
    for await (const chunk of packed.pipe(unpacked)) {
      if (extract.destroyed) return;
      if (!extract.write(chunk)) await new Promise((resolve) => (goOn = () => resolve(undefined)));
    }
    extract.end();
  } catch (error) {
    extract.destroy(error instanceof Error ? error : new Error(String(error)));
    throw error;
  }
}

/**
 * @param {Readable} source
 * @param {string} passphrase
 */
async function decrypt(source, passphrase) {
  const decrypter = new Decrypter();
  decrypter.addPassphrase(passphrase);
  const opened = await decrypter.decrypt(/** @type {ReadableStream<Uint8Array>} */ (Readable.toWeb(source)));
  return Readable.fromWeb(/** @type {WebStream} */ (opened));
}

/** @param {string} file */
function readStart(file) {
  try {
    const handle = fs.openSync(file, 'r');
    const start = Buffer.alloc(32);
    const length = fs.readSync(handle, start);
    fs.closeSync(handle);
    return start.subarray(0, length);
  } catch (error) {
    throw new PlainError(
      `${file} cannot be read (${error instanceof Error ? error.message : errorCode(error)}).`,
      'Name a file that is there and that you may read.',
      error,
    );
  }
}

/**
 * @param {unknown} error
 * @param {string} file
 */
function toArchiveError(error, file) {
  if (error instanceof PlainError) return error;
  const text = error instanceof Error ? error.message : String(error);
  if (/no identity matched/.test(text)) {
    return new PlainError(`The pass phrase does not open ${file}.`, 'Give the one it was encrypted with.', error);
  }
  // Whatever else goes wrong while reading is in the file: nothing was changed by it.
  return new PlainError(
    `${file} is damaged or cut off (${text}).`,
    'Take another copy of it, or an older backup. Nothing was restored.',
    error,
  );
}
