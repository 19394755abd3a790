import fs from 'node:fs';
import path from 'node:path';
import { isProcessAlive, readCommandLine } from '../postgres/postmaster.mjs';
import { errorCode, PlainError } from '../support/plain-error.mjs';

/**
 * Keeps a second launcher off the same data folder: two would share one database server, and the first to stop would
 * stop it under the other.
 * @param {string} dataDir an existing folder
 * @returns {() => void} gives the folder free
 * @throws {PlainError} when another launcher has it
 */
export function lockDataFolder(dataDir) {
  const file = path.join(dataDir, 'launcher.pid');
  for (;;) {
    try {
      fs.writeFileSync(file, `${process.pid}\n`, { flag: 'wx' });
      return () => fs.rmSync(file, { force: true });
    } catch (error) {
      if (errorCode(error) !== 'EEXIST') throw toFolderError(dataDir, error);
    }
    const pid = Number(fs.readFileSync(file, 'utf8'));
    if (pid !== process.pid && isProcessAlive(pid) && readCommandLine(pid).includes('start.mjs')) {
      throw new PlainError(
        `Kedge already runs on the data folder ${dataDir} (process ${pid}).`,
        'Stop it with Ctrl-C where it was started, or start this one with another DATA_DIR and PORT.',
      );
    }
    // Left by a launcher that was killed.
    fs.rmSync(file, { force: true });
  }
}

/**
 * @param {string} dataDir
 * @param {unknown} error
 */
function toFolderError(dataDir, error) {
  const code = errorCode(error);
  if (code === 'ENOSPC') {
    return new PlainError(
      `The disk that holds ${dataDir} is full.`,
      'Free some space, or set DATA_DIR to another disk.',
      error,
    );
  }
  if (code === 'EACCES' || code === 'EROFS' || code === 'EPERM') {
    return new PlainError(
      `You may not write to the data folder ${dataDir}.`,
      'Set DATA_DIR to a folder of your own.',
      error,
    );
  }
  return error;
}
