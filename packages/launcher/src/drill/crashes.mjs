import { randomInt } from 'node:crypto';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';
import pg from 'pg';
import { withConnection } from '../database/connection.mjs';
import { startEmbeddedPostgres } from '../embedded-postgres.mjs';
import { isProcessAlive } from '../postgres/postmaster.mjs';
import { PlainError } from '../support/plain-error.mjs';

const LONGEST_WRITING_MS = 3_000;

/**
 * Kills the database server in the middle of writing, over and over, and proves after each restart that every commit
 * that was acknowledged is there.
 * @param {number} rounds
 * @param {(text: string) => void} tell
 */
export async function drillCrashes(rounds, tell) {
  if (!Number.isInteger(rounds) || rounds < 1) {
    throw new PlainError('The number of rounds must be a whole number from 1.', 'npm run drill -- 20');
  }
  const dataDir = fs.mkdtempSync(path.join(os.tmpdir(), 'kedge-drill-'));
  fs.chmodSync(dataDir, 0o711);
  let acknowledged = 0;
  let server;
  try {
    for (let round = 1; round <= rounds; round += 1) {
      server = await startEmbeddedPostgres({ dataDir });
      await assertAllThere(server.url, acknowledged);
      acknowledged = await writeUntilKilled(server, acknowledged);
      tell(`round ${round} of ${rounds}: killed after ${acknowledged} commits in all`);
    }
    server = await startEmbeddedPostgres({ dataDir });
    await assertAllThere(server.url, acknowledged);
    tell(`${acknowledged} acknowledged commits, none lost in ${rounds} crashes`);
  } finally {
    await server?.stop();
    fs.rmSync(dataDir, { recursive: true, force: true });
  }
}

/**
 * @param {string} url
 * @param {number} acknowledged
 */
async function assertAllThere(url, acknowledged) {
  await withConnection(url, async (client) => {
    await client.query('CREATE TABLE IF NOT EXISTS commits (number bigint PRIMARY KEY)');
    const { rows } = await client.query('SELECT count(*)::int AS found FROM commits WHERE number <= $1', [
      acknowledged,
    ]);
    if (rows[0].found !== acknowledged) {
      throw new Error(`${acknowledged} commits were acknowledged and ${rows[0].found} of them are there`);
    }
    // One more may have been committed while its acknowledgement was under way.
    await client.query('DELETE FROM commits WHERE number > $1', [acknowledged]);
  });
}

/**
 * @param {import('../embedded-postgres.mjs').EmbeddedPostgres} server
 * @param {number} acknowledged
 * @returns {Promise<number>} the last number whose commit was acknowledged
 */
async function writeUntilKilled(server, acknowledged) {
  const client = new pg.Client(server.url);
  /** @type {unknown} */
  let breakage;
  client.on('error', (error) => (breakage = error));
  await client.connect();
  setTimeout(() => killServer(server.pid), randomInt(100, LONGEST_WRITING_MS));
  for (let number = acknowledged + 1; ; number += 1) {
    try {
      await client.query('INSERT INTO commits VALUES ($1)', [number]);
    } catch (error) {
      breakage ??= error;
    }
    if (breakage !== undefined) break;
    acknowledged = number;
  }
  while (isProcessAlive(server.pid)) await delay(20);
  return acknowledged;
}

/**
 * The server and all of its processes at once, as a power cut would.
 * @param {number} pid
 */
function killServer(pid) {
  process.kill(-pid, 'SIGKILL');
}
