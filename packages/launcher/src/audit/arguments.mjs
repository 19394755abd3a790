import path from 'node:path';
import { parseArgs } from 'node:util';
import { PlainError } from '../support/plain-error.mjs';

const USAGE = 'npm run audit:verify [-- --heads FILE]   (a copy of audit-heads.jsonl that was kept elsewhere)';

/**
 * @param {string[]} args
 * @returns {{ headsFile: string | null }}
 * @throws {PlainError}
 */
export function readVerifyArguments(args) {
  try {
    const { heads } = parseArgs({ args, options: { heads: { type: 'string' } } }).values;
    return { headsFile: heads === undefined ? null : path.resolve(process.env.INIT_CWD ?? process.cwd(), heads) };
  } catch (error) {
    throw new PlainError(error instanceof Error ? error.message : String(error), USAGE, error);
  }
}
