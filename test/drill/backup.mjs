import { randomUUID } from 'node:crypto';
import { once } from 'node:events';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';
import { withConnection, withUrlParts } from '@repo/launcher/connection';
import { loadDemo } from '@repo/launcher/demo';
import { startEmbeddedPostgres } from '@repo/launcher/embedded-postgres';
import { findFreePort } from '@repo/launcher/ports';
import { toLoginUrls } from '@repo/launcher/roles';
import { APP_SECRET, startApiProcess, startDatabase } from '../bench/ingest-world.mjs';
import { fillCounts } from '../support/counts.mjs';
import { findInstalledServers, startOwnServer } from './own-server.mjs';
import { runProgram, runProgramWell, startProgram } from './programs.mjs';
import { findDifferences } from './same-database.mjs';
import { canMount, onSmallDisk } from './small-disk.mjs';

const PASSWORD = 'the password of a drill';
const WRITERS = 3;
/** Of 50 circuits, a count each. */
const HOURS = 10_000;
/** Enough for an empty database, too little for what is restored. */
const SMALL_MB = 180;

/** @typedef {(text: string) => void} Tell */

/**
 * The demonstration and half a million counts are backed up while people write, and come back: consistent from the busy moment, and
 * the same in every row, policy, grant and sequence from a quiet one, on the embedded PostgreSQL, on every other that is installed,
 * and back. Sizing records are then computed again to the last digit.
 * @param {Tell} tell
 */
export async function drillBackup(tell) {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'kedge-backup-'));
  fs.chmodSync(folder, 0o755);
  const dataDir = path.join(folder, 'source');
  const db = await startDatabase({ dataDir });
  fs.writeFileSync(path.join(dataDir, 'app-secret'), `${APP_SECRET}\n`);
  try {
    await loadDemo({ ...db.urls, password: PASSWORD });
    const organisationId = await readOrganisation(db.superuserUrl);
    const { rows } = await fillCounts({
      superuserUrl: db.superuserUrl,
      organisationId,
      circuits: 50,
      hours: HOURS,
    });
    tell(`backup: the demonstration and ${rows} counts`);
    await backUpWhileWriting({ dataDir, folder, superuserUrl: db.superuserUrl, organisationId }, tell);
    const quiet = path.join(folder, 'quiet.backup');
    await runProgramWell('backup.mjs', [quiet, '--encrypt'], { DATA_DIR: dataDir }, tell);
    await useFullDisks({ dataDir, file: quiet }, tell);
    await restoreEmbedded({ file: quiet, target: path.join(folder, 'restored'), like: db.superuserUrl }, tell);
    for (const { version, bin } of findInstalledServers()) {
      await restoreElsewhere({ file: quiet, folder, bin, version, like: db.superuserUrl }, tell);
    }
  } finally {
    await db.stop();
    fs.rmSync(folder, { recursive: true, force: true });
  }
}

/**
 * @param {{ dataDir: string, folder: string, superuserUrl: string, organisationId: string }} input
 * @param {Tell} tell
 */
async function backUpWhileWriting({ dataDir, folder, superuserUrl, organisationId }, tell) {
  let isOver = false;
  /** @type {string[]} */
  const written = [];
  const writers = Array.from({ length: WRITERS }, () =>
    withConnection(superuserUrl, async (client) => {
      while (!isOver) {
        const id = randomUUID();
        // Two rows of one transaction, the first asked for by the second: half of it must never be seen.
        await client.query('BEGIN');
        await client.query(`INSERT INTO customers (organisation_id, id, name) VALUES ($1, $2, $3)`, [
          organisationId,
          id,
          `Drill ${id}`,
        ]);
        await client.query(
          `INSERT INTO sites (organisation_id, customer_id, id, name, place, time_zone) VALUES ($1, $2, $2, 'Drill', 'Braga', 'Europe/Lisbon')`,
          [organisationId, id],
        );
        await client.query('COMMIT');
        written.push(id);
      }
    }),
  );
  const writing = Promise.all(writers);
  // Heard at the end; without this a writer that fails would end the drill before its database is stopped.
  writing.catch(() => (isOver = true));
  while (written.length < 20 && !isOver) await delay(10);
  const before = [...written];
  const file = path.join(folder, 'busy.backup');
  await runProgramWell('backup.mjs', [file], { DATA_DIR: dataDir }, tell);
  const during = written.length - before.length;
  isOver = true;
  await writing;
  const target = path.join(folder, 'busy');
  await runProgramWell('restore.mjs', [file], { DATA_DIR: target }, tell);
  const server = await startEmbeddedPostgres({ dataDir: target });
  try {
    const { rows } = await withConnection(withUrlParts(server.url, { database: 'kedge' }), (client) =>
      client.query(`SELECT c.id, s.id IS NOT NULL AS has_site FROM customers c LEFT JOIN sites s USING (organisation_id, id)
                    WHERE c.name LIKE 'Drill %'`),
    );
    const there = new Set(rows.map(({ id }) => id));
    const lost = before.filter((id) => !there.has(id));
    const halves = rows.filter(({ has_site: hasSite }) => !hasSite);
    if (lost.length > 0 || halves.length > 0) throw new Error(`${lost.length} rows lost, ${halves.length} halves`);
    if (during === 0) throw new Error('nobody wrote while the backup was made');
    tell(`backup: ${during} pairs were written meanwhile; all ${before.length} from before are there, and no half`);
  } finally {
    await server.stop();
  }
}

/**
 * A backup onto a disk that is too small, and a restore onto one.
 * @param {{ dataDir: string, file: string }} input
 * @param {Tell} tell
 */
async function useFullDisks({ dataDir, file }, tell) {
  if (!canMount()) {
    tell('backup: full disks are not tried: mounting a small one needs root');
    return;
  }
  await onSmallDisk(2, async (disk) => {
    const onto = await runProgram('backup.mjs', [path.join(disk, 'a.backup')], { DATA_DIR: dataDir });
    const left = fs.readdirSync(disk);
    if (
      onto.code !== 1 ||
      left.length > 0 ||
      !onto.said.startsWith(`The disk that holds ${disk} is full: there is no backup.`)
    )
      throw new Error(`a backup onto a full disk ended with ${onto.code} and left ${left.join(', ')}: ${onto.said}`);
    tell(`backup: onto a disk that is too small it left nothing, and said: ${firstLine(onto.said)}`);
  });
  await onSmallDisk(SMALL_MB, async (disk) => {
    const target = path.join(disk, 'data');
    const onto = await runProgram('restore.mjs', [file], { DATA_DIR: target });
    const left = fs.readdirSync(target);
    if (onto.code !== 1 || left.length > 0 || !/disk/.test(onto.said))
      throw new Error(`a restore onto a full disk ended with ${onto.code} and left ${left.join(', ')}: ${onto.said}`);
    tell(`backup: restored onto a disk that is too small it left nothing, and said: ${firstLine(onto.said)}`);
  });
}

const firstLine = (/** @type {string} */ text) => text.split('\n', 1)[0];

/**
 * @param {{ file: string, target: string, like: string }} input
 * @param {Tell} tell
 */
async function restoreEmbedded({ file, target, like }, tell) {
  await runProgramWell('restore.mjs', [file], { DATA_DIR: target }, tell);
  const server = await startEmbeddedPostgres({ dataDir: target });
  try {
    await assertSame(like, withUrlParts(server.url, { database: 'kedge' }));
    const urls = toLoginUrls(server.url, 'kedge');
    const replayed = await replayAll(urls, withUrlParts(server.url, { database: 'kedge' }));
    tell(
      `backup: embedded, the same in every row and rule; ${replayed} sizing records computed again to the last digit`,
    );
  } finally {
    await server.stop();
  }
}

/**
 * Onto a server of somebody's own, by an owner who is no superuser; killed half-way once; and from there back.
 * @param {{ file: string, folder: string, bin: string, version: string, like: string }} input
 * @param {Tell} tell
 */
async function restoreElsewhere({ file, folder, bin, version, like }, tell) {
  const ownServer = await startOwnServer({ bin, folder });
  try {
    const database = await ownServer.createDatabase('kedge');
    const env = {
      DATABASE_OWNER_URL: database.ownerUrl,
      DATABASE_URL: database.appUrl,
      DATA_DIR: path.join(folder, `own-${version}`),
    };
    await killHalfway(file, env, database.superuserUrl);
    await runProgramWell('restore.mjs', [file], env, tell);
    await assertSame(like, database.superuserUrl, { owner: 'shop' });
    await withConnection(ownServer.superuserUrl, (client) => client.query('ALTER ROLE kedge_backup INHERIT BYPASSRLS'));
    const back = path.join(folder, `from-${version}.backup`);
    await runProgramWell('backup.mjs', [back], env, tell);
    const target = path.join(folder, `back-from-${version}`);
    await runProgramWell('restore.mjs', [back], { DATA_DIR: target }, tell);
    const server = await startEmbeddedPostgres({ dataDir: target });
    try {
      await assertSame(like, withUrlParts(server.url, { database: 'kedge' }));
    } finally {
      await server.stop();
    }
    tell(`backup: a server of one's own (${version}): there and back, the same; killed half-way it stayed empty`);
  } finally {
    await ownServer.stop();
  }
}

/**
 * @param {string} file
 * @param {Record<string, string>} env
 * @param {string} superuserUrl
 */
async function killHalfway(file, env, superuserUrl) {
  const child = startProgram('restore.mjs', [file], env);
  let isLoading = false;
  while (!isLoading && child.exitCode === null) {
    const { rows } = await withConnection(superuserUrl, (client) =>
      client.query(`SELECT 1 FROM pg_stat_activity WHERE query LIKE 'COPY %alarm_counts%'`),
    );
    isLoading = rows.length > 0;
  }
  if (!isLoading) throw new Error('the restore was over before it could be killed');
  child.kill('SIGKILL');
  await once(child, 'exit');
  for (let tables = -1, rounds = 0; tables !== 0; rounds += 1) {
    if (rounds > 100) throw new Error(`${tables} tables are left of a restore that was killed`);
    await delay(100);
    const { rows } = await withConnection(superuserUrl, (client) =>
      client.query(`SELECT count(*)::int AS tables FROM pg_tables WHERE schemaname = 'public'`),
    );
    tables = rows[0].tables;
  }
}

/**
 * @param {string} like
 * @param {string} url
 * @param {{ owner?: string }} [options]
 */
async function assertSame(like, url, options) {
  const differences = await findDifferences(like, url, options);
  if (differences.length > 0) throw new Error(differences.slice(0, 20).join('\n'));
}

/**
 * Every sizing record, through the API as an engineer.
 * @param {import('@repo/launcher/roles').LoginUrls} urls
 * @param {string} superuserUrl
 */
async function replayAll(urls, superuserUrl) {
  const port = await findFreePort();
  const api = await startApiProcess(urls, port);
  try {
    const base = `http://127.0.0.1:${port}/api/v1`;
    const body = JSON.stringify({ email: 'engineer@demo.example', password: PASSWORD });
    const headers = { 'content-type': 'application/json' };
    const session = await fetch(`${base}/sessions`, { method: 'POST', headers, body });
    const cookie = session.headers.get('set-cookie')?.split(';', 1)[0] ?? '';
    const { rows } = await withConnection(superuserUrl, (client) => client.query('SELECT id FROM sizing_records'));
    if (rows.length === 0) throw new Error('there is no sizing record to compute again');
    for (const { id } of rows) {
      const answer = await fetch(`${base}/sizing-records/${id}/replay`, { method: 'POST', headers: { cookie } });
      const replay = await answer.json();
      if (answer.status !== 200 || !replay.same) throw new Error(`${id}: ${answer.status} ${JSON.stringify(replay)}`);
    }
    return rows.length;
  } finally {
    await api.kill('SIGTERM');
  }
}

/** @param {string} url */
async function readOrganisation(url) {
  const { rows } = await withConnection(url, (client) => client.query('SELECT id FROM organisations'));
  return String(rows[0].id);
}
