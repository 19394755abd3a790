import { PlainError } from '../support/plain-error.mjs';

/**
 * A file that can be read, and is not what a backup is.
 * @param {string} file
 * @param {string} why
 */
export function notWhole(file, why) {
  return new PlainError(
    `${file} is no whole backup: ${why}.`,
    'Take another copy of it, or an older backup. Nothing was restored.',
  );
}
