import fs from 'node:fs';
import path from 'node:path';
import { dump } from './dump.mjs';
import { openSource } from './source.mjs';
import { writeBackupFile } from './backup-file.mjs';

/**
 * Backs up the database, and, where it is encrypted, the secret that the API seals with.
 * @param {import('../launch/options.mjs').Options} options
 * @param {{ file: string, passphrase: string | null, signal?: AbortSignal }} input
 * @returns {Promise<{ tables: number, rows: number, bytes: number, hasSecret: boolean }>}
 */
export async function backUp(options, { file, passphrase, signal }) {
  const source = await openSource(options);
  try {
    const secretFile = path.join(options.dataDir, 'app-secret');
    const hasSecret = passphrase !== null && fs.existsSync(secretFile);
    const appSecret = hasSecret ? fs.readFileSync(secretFile, 'utf8').trim() : null;
    const dumped = dump({ backupUrl: source.backupUrl, appSecret });
    try {
      await writeBackupFile({ file, passphrase, bytes: dumped.bytes, signal });
    } catch (error) {
      await dumped.stop();
      throw error;
    }
    return { ...(await dumped.done), bytes: fs.statSync(file).size, hasSecret };
  } finally {
    await source.close();
  }
}
