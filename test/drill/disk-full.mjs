import fs from 'node:fs';
import path from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';
import { withConnection } from '@repo/launcher/connection';
import { findFreePort } from '@repo/launcher/ports';
import { isProcessAlive } from '@repo/launcher/processes';
import { deliver, makeWorld, startApiProcess, startDatabase } from '../bench/ingest-world.mjs';
import { runProgram } from './programs.mjs';
import { canMount, onSmallDisk } from './small-disk.mjs';

const SIZE_MB = 220;
const LEFT_MB = 12;
const HOUR = 3_600_000;
const START = Date.parse('2026-01-01T00:00:00Z');

/** A body of 500 intervals that nobody has reported yet. */
function bodyOf(/** @type {number} */ number) {
  const intervals = (/** @type {string} */ circuit) =>
    Array.from({ length: 50 }, (_, index) => ({
      circuit,
      from: new Date(START + (number * 50 + index) * 60_000).toISOString(),
      to: new Date(START + (number * 50 + index + 1) * 60_000).toISOString(),
      revision: 1,
      clampCycles: 7,
      alarms: { 'low-air': 1, [`filler-${'x'.repeat(40)}`]: 1 },
    }));
  const data = Array.from({ length: 5 }, (_, machine) => ({
    machine: `M-${machine}`,
    intervals: ['P1', 'P2'].flatMap(intervals),
  }));
  return JSON.stringify({ type: 'alarm.counts', timestamp: new Date(Date.now() - HOUR).toISOString(), data });
}

/**
 * Fills a small disk under the database while deliveries come in: refused ones get 507 or 503 with Retry-After, nothing acknowledged
 * is lost, and once there is room again deliveries go on without anybody's doing. Needs the right to mount.
 * @param {(text: string) => void} tell
 */
export async function drillDiskFull(tell) {
  if (!canMount()) {
    tell('the disk is not filled: mounting a small one needs root');
    return;
  }
  await onSmallDisk(SIZE_MB, (disk) => fillAndRecover(path.join(disk, 'data'), disk, tell));
}

/**
 * A backup onto the full disk says so, and leaves nothing there.
 * @param {string} dataDir
 * @param {string} disk
 * @param {(text: string) => void} tell
 */
async function backUpOntoFullDisk(dataDir, disk, tell) {
  const { code, said: output } = await runProgram('backup.mjs', [path.join(disk, 'full.backup')], {
    DATA_DIR: dataDir,
  });
  const left = fs.readdirSync(disk).filter((name) => name.includes('backup'));
  if (code !== 1 || left.length > 0)
    throw new Error(`a backup ended with ${code} and left ${left.join(', ')}: ${output}`);
  // PostgreSQL itself ends where the disk stays full; then it is the one that says so.
  if (!/The disk that holds \S+ is full/.test(output)) throw new Error(`this says nothing of the disk: ${output}`);
  tell('disk full: a backup onto it says so and leaves nothing');
}

/**
 * @param {string} dataDir
 * @param {string} disk
 * @param {(text: string) => void} tell
 */
async function fillAndRecover(dataDir, disk, tell) {
  const db = await startDatabase({ dataDir, settings: { min_wal_size: '64MB', max_wal_size: '64MB' } });
  const port = await findFreePort();
  const api = await startApiProcess(db.urls, port);
  try {
    const world = await makeWorld(db.superuserUrl, { machines: 5 });
    const [sourceId = ''] = world.sourceIds;
    /** @type {string[]} */
    const taken = [];
    const send = async (/** @type {number} */ number) => {
      const id = `full-${number}`;
      const answer = await deliver({ port, sourceId, secret: world.secret, id, body: bodyOf(number) });
      if (answer.status === 200) taken.push(id);
      return answer.status;
    };
    for (let number = 0; number < 20; number += 1) await send(number);
    const ballast = path.join(disk, 'ballast');
    const { bavail, bsize } = fs.statfsSync(disk);
    fs.writeFileSync(ballast, Buffer.alloc(Math.max(0, bavail * bsize - LEFT_MB * 1024 * 1024)));
    const refused = new Map();
    let number = 20;
    for (; number < 400 && (refused.get(507) ?? 0) + (refused.get(503) ?? 0) < 5; number += 1) {
      const status = await send(number);
      if (status === 200) continue;
      if (status !== 507 && status !== 503) throw new Error(`a full disk was answered ${status}`);
      refused.set(status, (refused.get(status) ?? 0) + 1);
    }
    if (refused.size === 0) throw new Error('the disk did not fill up');
    await backUpOntoFullDisk(dataDir, disk, tell);
    fs.rmSync(ballast);
    // As whoever watches it would.
    if (!isProcessAlive(db.pid)) await db.restart();
    const began = Date.now();
    while ((await send(number)) !== 200) {
      if (Date.now() - began > 30_000) throw new Error('it did not recover');
      await delay(200);
    }
    const { rows } = await withConnection(db.superuserUrl, (client) =>
      client.query(`SELECT webhook_id AS id, count(*)::int AS n FROM alarm_counts GROUP BY 1`),
    );
    const stored = new Map(rows.map((row) => [row.id, row.n]));
    const lost = taken.filter((id) => stored.get(id) !== 500);
    if (lost.length > 0 || stored.size !== taken.length)
      throw new Error(`acknowledged and not whole: ${lost.join(', ')}`);
    const answers = [...refused].map(([status, times]) => `${times} times ${status}`).join(', ');
    tell(
      `disk full: answered ${answers}; ${taken.length} acknowledged deliveries all there; taken in again ${((Date.now() - began) / 1000).toFixed(1)} s after room was made`,
    );
  } finally {
    await api.kill('SIGKILL');
    await db.stop();
  }
}
