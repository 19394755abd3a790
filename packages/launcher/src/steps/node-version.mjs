import { PlainError } from '../support/plain-error.mjs';

/** The oldest Node that the pinned packages run on. */
const OLDEST = [20, 19];

/**
 * @param {string} [version] `process.version` by default
 * @throws {PlainError} when this Node is too old
 */
export function assertNodeVersion(version = process.version) {
  const [major = 0, minor = 0] = version.replace(/^v/, '').split('.').map(Number);
  const [oldestMajor = 0, oldestMinor = 0] = OLDEST;
  if (major > oldestMajor || (major === oldestMajor && minor >= oldestMinor)) return;
  throw new PlainError(
    `This is Node ${version}; ${OLDEST.join('.')} or later is needed.`,
    'Install the current long-term release from nodejs.org or your package manager, then run the command again.',
  );
}
