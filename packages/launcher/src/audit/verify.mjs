import fs from 'node:fs';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { openSource } from '../backup/source.mjs';
import { withConnection } from '../database/connection.mjs';
import { PlainError } from '../support/plain-error.mjs';
import { ROOT } from '../support/paths.mjs';

/** The API computes and reads; it is the only one that knows how an entry is sealed. */
const AUDITING = path.join(ROOT, 'apps', 'api', 'dist', 'auditing.js');

/**
 * Says of each organisation's audit chain whether it holds, and where it does not.
 * @param {import('../launch/options.mjs').Options} options
 * @param {{ headsFile: string | null }} input
 * @param {(text: string) => void} tell
 * @returns {Promise<{ isWhole: boolean }>}
 */
export async function verifyAudit(options, { headsFile }, tell) {
  const { readHeads, verifyChains } = await import(pathToFileURL(AUDITING).href);
  const heads = headsFile === null ? [] : readHeadsFile(headsFile, readHeads);
  const source = await openSource(options);
  try {
    return await withConnection(source.backupUrl, async (client) => {
      let isWhole = true;
      let chains = 0;
      // One moment for all: what comes in meanwhile is the next time's.
      await client.query('BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY');
      for await (const { organisationId, sealed, waiting, broken } of verifyChains(client, heads)) {
        chains += 1;
        if (broken === null) {
          tell(`${organisationId}: ${sealed} entries hold${waiting > 0 ? `; ${waiting} wait to be sealed` : ''}`);
          continue;
        }
        isWhole = false;
        const entry = broken.entryId === null ? '' : ` (entry ${broken.entryId})`;
        tell(`${organisationId}: BROKEN at number ${broken.sequence}${entry}: ${broken.why}`);
      }
      const compared = headsFile === null ? '' : `; compared with ${heads.length} exported heads`;
      tell(`${chains} chains ${isWhole ? 'hold' : 'verified, not all of them hold'}${compared}`);
      return { isWhole };
    });
  } finally {
    await source.close();
  }
}

/**
 * @param {string} file
 * @param {(text: string) => { organisationId: string }[]} readHeads
 */
function readHeadsFile(file, readHeads) {
  try {
    return readHeads(fs.readFileSync(file, 'utf8'));
  } catch (error) {
    throw new PlainError(
      `The heads in ${file} cannot be read (${error instanceof Error ? error.message : error}).`,
      'Name a copy of audit-heads.jsonl as it was written.',
      error,
    );
  }
}
