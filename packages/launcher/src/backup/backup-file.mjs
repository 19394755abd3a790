import fs from 'node:fs';
import path from 'node:path';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { createGzip } from 'node:zlib';
import { Encrypter } from 'age-encryption';
import { errorCode, PlainError } from '../support/plain-error.mjs';

/** @typedef {import('node:stream/web').ReadableStream<Uint8Array>} WebStream */

/**
 * Writes a backup under a name of its own and gives it the name asked for only when all of it is on the disk: whatever has that
 * name is whole. Nothing is left of one that failed.
 * @param {object} input
 * @param {string} input.file
 * @param {string | null} input.passphrase encrypts (age) when given
 * @param {AsyncIterable<Uint8Array>} input.bytes
 * @param {AbortSignal} [input.signal]
 * @throws {PlainError} the name is taken, the folder is not there, or the disk is full
 */
export async function writeBackupFile({ file, passphrase, bytes, signal }) {
  if (fs.existsSync(file)) {
    throw new PlainError(`There is a file ${file} already.`, 'Give a name that is free: no backup is written over.');
  }
  const draft = `${file}.${process.pid}.part`;
  try {
    const onDisk = fs.createWriteStream(draft, { flags: 'wx', mode: 0o600, flush: true });
    const packed = createGzip({ level: 4 });
    if (passphrase === null) await pipeline(bytes, packed, onDisk, { signal });
    else await pipeline(bytes, packed, (open) => encrypt(open, passphrase), onDisk, { signal });
    fs.renameSync(draft, file);
    syncFolder(path.dirname(file));
  } catch (error) {
    fs.rmSync(draft, { force: true });
    throw toFileError(error, file);
  }
}

/**
 * @param {AsyncIterable<Uint8Array>} open
 * @param {string} passphrase
 */
async function* encrypt(open, passphrase) {
  const encrypter = new Encrypter();
  encrypter.setPassphrase(passphrase);
  const stream = Readable.toWeb(Readable.from(open));
  const sealed = await encrypter.encrypt(/** @type {ReadableStream<Uint8Array>} */ (stream));
  yield* Readable.fromWeb(/** @type {WebStream} */ (sealed));
}

/**
 * The new name itself, kept over a power cut. Windows knows no such thing.
 * @param {string} folder
 */
function syncFolder(folder) {
  if (process.platform === 'win32') return;
  const handle = fs.openSync(folder, 'r');
  fs.fsyncSync(handle);
  fs.closeSync(handle);
}

/**
 * @param {unknown} error
 * @param {string} file
 */
function toFileError(error, file) {
  const code = errorCode(error);
  if (code === 'ABORT_ERR') return new PlainError('Stopped: there is no backup.', 'Nothing was left behind.', error);
  if (code === 'ENOSPC' || code === 'EDQUOT') {
    return new PlainError(
      `The disk that holds ${path.dirname(file)} is full: there is no backup.`,
      'Free some space or write to another disk, then start it again. Nothing was left behind.',
      error,
    );
  }
  if (['ENOENT', 'EACCES', 'EROFS', 'EPERM', 'ENOTDIR'].includes(code)) {
    return new PlainError(
      `${file} cannot be written (${error instanceof Error ? error.message : code}).`,
      'Name a file in a folder that is there and that you may write to.',
      error,
    );
  }
  return error;
}
