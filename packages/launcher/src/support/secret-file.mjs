import { randomBytes } from 'node:crypto';
import fs from 'node:fs';

/**
 * The secret kept in a file only its owner can read; made up and written the first time.
 * @param {string} file
 * @param {() => string} [create] makes the secret; 32 random bytes as base64url by default
 * @returns {string}
 */
export function getOrCreateSecret(file, create = () => randomBytes(32).toString('base64url')) {
  if (fs.existsSync(file)) return fs.readFileSync(file, 'utf8').trim();
  const secret = create();
  // Written beside and renamed: a crash in between never leaves half a secret behind.
  const draft = `${file}.${process.pid}`;
  fs.writeFileSync(draft, `${secret}\n`, { mode: 0o600 });
  fs.renameSync(draft, file);
  return secret;
}
