/**
 * An error meant for the person at the keyboard: what happened in one sentence, and what to do about it.
 * The entry files print both and no stack; anything else that is thrown is a defect of ours and keeps its stack.
 */
export class PlainError extends Error {
  /**
   * @param {string} sentence what happened
   * @param {string} remedy what the reader can do about it
   * @param {unknown} [cause] the error underneath, kept for logs
   */
  constructor(sentence, remedy, cause) {
    super(sentence, { cause });
    this.name = 'PlainError';
    this.remedy = remedy;
  }
}

/**
 * The text of an error for a terminal.
 * @param {unknown} error
 * @returns {string}
 */
export function toTerminalText(error) {
  if (error instanceof PlainError) return `${error.message}\n  What to do: ${error.remedy}`;
  if (error instanceof Error) return error.stack ?? error.message;
  return String(error);
}

/**
 * The operating system's code of an error (`EACCES`, `ENOSPC`, a PostgreSQL SQLSTATE), or an empty string.
 * @param {unknown} error
 * @returns {string}
 */
export function errorCode(error) {
  if (typeof error !== 'object' || error === null || !('code' in error)) return '';
  return String(error.code);
}
