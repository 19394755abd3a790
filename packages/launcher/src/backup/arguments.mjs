import path from 'node:path';
import { parseArgs } from 'node:util';
import { PlainError } from '../support/plain-error.mjs';

/**
 * The one file that a command names, from where npm was called.
 * @param {string[]} args
 * @param {string} usage
 * @param {{ mayEncrypt?: boolean }} [options]
 * @returns {{ file: string, isEncrypted: boolean }}
 * @throws {PlainError}
 */
export function readFileArgument(args, usage, { mayEncrypt = false } = {}) {
  /** @type {import('node:util').ParseArgsConfig['options']} */
  const options = mayEncrypt ? { encrypt: { type: 'boolean' } } : {};
  try {
    const { values, positionals } = parseArgs({ args, options, allowPositionals: true });
    const [file] = positionals;
    if (file === undefined || positionals.length > 1) throw new Error('Name one file.');
    return {
      file: path.resolve(process.env.INIT_CWD ?? process.cwd(), file),
      isEncrypted: values.encrypt === true,
    };
  } catch (error) {
    throw new PlainError(error instanceof Error ? error.message : String(error), usage, error);
  }
}
