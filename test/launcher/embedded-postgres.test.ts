import { execFileSync, spawn } from 'node:child_process';
import { once } from 'node:events';
import fs from 'node:fs';
import path from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { withConnection } from '@repo/launcher/connection';
import { startEmbeddedPostgres } from '@repo/launcher/embedded-postgres';
import { isProcessAlive } from '@repo/launcher/processes';
import { createTemporaryFolder } from './support/temporary-folder.js';

const START_AND_HANG = fileURLToPath(new URL('support/start-and-hang.mjs', import.meta.url));
const isRoot = process.getuid?.() === 0;

async function waitForEnd(pid: number): Promise<void> {
  while (isProcessAlive(pid)) await delay(20);
}

describe('The embedded PostgreSQL', () => {
  let untouched: string;
  let folder: string;
  let dataDir: string;

  /** A folder in which a server was made and never used. */
  function copyUntouched(to: string): void {
    // With their owner: under root the server runs as another user.
    execFileSync('cp', ['-a', untouched, to]);
  }

  beforeAll(async () => {
    untouched = path.join(createTemporaryFolder(), 'data');
    const made = await startEmbeddedPostgres({ dataDir: untouched, settings: { fsync: 'off' } });
    await made.stop();
  });

  afterAll(() => fs.rmSync(path.dirname(untouched), { recursive: true, force: true }));

  beforeEach(() => {
    folder = createTemporaryFolder();
    dataDir = path.join(folder, 'data');
  });

  afterEach(async () => {
    if (
      fs.existsSync(path.join(dataDir, 'postgres', 'PG_VERSION')) &&
      fs.existsSync(path.join(dataDir, 'postgres-password'))
    ) {
      await (await startEmbeddedPostgres({ dataDir })).stop();
    }
    fs.rmSync(folder, { recursive: true, force: true });
  });

  it('keeps its rows when it is stopped and started again', async () => {
    copyUntouched(dataDir);
    const first = await startEmbeddedPostgres({ dataDir });
    await withConnection(first.url, (client) => client.query('CREATE TABLE kept AS SELECT 42 AS answer'));
    await first.stop();
    expect(isProcessAlive(first.pid)).toBe(false);
    const second = await startEmbeddedPostgres({ dataDir });
    const { rows } = await withConnection(second.url, (client) => client.query('SELECT answer FROM kept'));
    expect(rows).toEqual([{ answer: 42 }]);
    expect(second.isAdopted).toBe(false);
  });

  it('keeps what was committed when the server is killed outright', async () => {
    copyUntouched(dataDir);
    const first = await startEmbeddedPostgres({ dataDir });
    await withConnection(first.url, (client) => client.query('CREATE TABLE kept AS SELECT 42 AS answer'));
    process.kill(-first.pid, 'SIGKILL');
    await waitForEnd(first.pid);
    const second = await startEmbeddedPostgres({ dataDir });
    const { rows } = await withConnection(second.url, (client) => client.query('SELECT answer FROM kept'));
    expect(rows).toEqual([{ answer: 42 }]);
  });

  it('adopts the server that a killed program left running', async () => {
    copyUntouched(dataDir);
    const program = spawn(process.execPath, [START_AND_HANG, dataDir], { stdio: ['ignore', 'pipe', 'inherit'] });
    const [line] = (await once(program.stdout, 'data')) as [Buffer];
    const left = JSON.parse(line.toString('utf8')) as { pid: number; port: number };
    program.kill('SIGKILL');
    await once(program, 'exit');
    expect(isProcessAlive(left.pid)).toBe(true);
    const adopted = await startEmbeddedPostgres({ dataDir });
    expect(adopted).toMatchObject({ ...left, isAdopted: true });
    await adopted.stop();
    expect(isProcessAlive(left.pid)).toBe(false);
  });

  it('moves the server that was left running when another port is asked for', async () => {
    copyUntouched(dataDir);
    const first = await startEmbeddedPostgres({ dataDir });
    // Below the ports that outgoing connections are given.
    const second = await startEmbeddedPostgres({ dataDir, port: 27_290 });
    expect(second).toMatchObject({ port: 27_290, isAdopted: false });
    expect(isProcessAlive(first.pid)).toBe(false);
  });

  it('starts although the number in a stale pid file belongs to another program now', async () => {
    copyUntouched(dataDir);
    const lines = [process.pid, path.join(dataDir, 'postgres'), 1, 1, '', '127.0.0.1', '', 'ready'];
    fs.writeFileSync(path.join(dataDir, 'postgres', 'postmaster.pid'), `${lines.join('\n')}\n`);
    const server = await startEmbeddedPostgres({ dataDir });
    expect(server.isAdopted).toBe(false);
    expect(server.pid).not.toBe(process.pid);
  });

  it('starts over when the first start was interrupted half-way', async () => {
    fs.mkdirSync(path.join(dataDir, 'postgres.new'), { recursive: true });
    fs.writeFileSync(path.join(dataDir, 'postgres.new', 'PG_VERSION'), '18\n');
    const server = await startEmbeddedPostgres({ dataDir });
    const { rows } = await withConnection(server.url, (client) => client.query('SELECT 1 AS one'));
    expect(rows).toEqual([{ one: 1 }]);
    expect(fs.existsSync(path.join(dataDir, 'postgres.new'))).toBe(false);
  });

  it('lets nobody in without the password, which only its owner can read', async () => {
    copyUntouched(dataDir);
    const server = await startEmbeddedPostgres({ dataDir });
    const url = new URL(server.url);
    url.password = 'guess';
    await expect(withConnection(url.href, (client) => client.query('SELECT 1'))).rejects.toThrow(
      'refuses the login "postgres"',
    );
    expect(fs.statSync(path.join(dataDir, 'postgres-password')).mode & 0o777).toBe(0o600);
  });

  it('says plainly that the password file is gone', async () => {
    copyUntouched(dataDir);
    fs.rmSync(path.join(dataDir, 'postgres-password'));
    await expect(startEmbeddedPostgres({ dataDir })).rejects.toMatchObject({
      message: expect.stringContaining('the file with its password') as string,
      remedy: expect.stringContaining('backup') as string,
    });
  });

  it('says which folder shuts the server’s user out, or has no such user to shut out', async () => {
    fs.chmodSync(folder, 0o700);
    if (isRoot) {
      await expect(startEmbeddedPostgres({ dataDir })).rejects.toMatchObject({
        message: expect.stringContaining(`cannot enter ${folder}`) as string,
        remedy: expect.stringContaining('DATA_DIR') as string,
      });
    } else {
      const server = await startEmbeddedPostgres({ dataDir });
      expect(isProcessAlive(server.pid)).toBe(true);
    }
  });

  it('says that the port is taken', async () => {
    copyUntouched(dataDir);
    const otherDataDir = path.join(folder, 'other');
    copyUntouched(otherDataDir);
    const other = await startEmbeddedPostgres({ dataDir: otherDataDir, port: 47_291 });
    try {
      await expect(startEmbeddedPostgres({ dataDir, port: 47_291 })).rejects.toThrow(
        'Port 47291, meant for PostgreSQL, is taken.',
      );
    } finally {
      await other.stop();
    }
  });
});
