import fs from 'node:fs';
import net from 'node:net';
import path from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';
import { withConnection, withUrlParts } from '@repo/launcher/connection';
import { startEmbeddedPostgres } from '@repo/launcher/embedded-postgres';
import { findFreePort, findPortProblem } from '@repo/launcher/ports';
import { isProcessAlive, readPostmaster } from '@repo/launcher/processes';
import { createEmptyDatabase } from '../support/database.mjs';
import { startLauncher, type Launcher } from './support/launcher.js';
import { findChildren } from './support/processes.js';
import { createTemporaryFolder } from './support/temporary-folder.js';

/** Seconds; the first start of a test run may find something to build. */
const FIRST_START = 300;
const SECOND_START = 15;

async function waitUntil(isTrue: () => boolean | Promise<boolean>, what: string): Promise<void> {
  for (const startedAt = Date.now(); !(await isTrue()); await delay(50)) {
    if (Date.now() - startedAt > 20_000) throw new Error(`waited 20 s for this: ${what}`);
  }
}

describe('npm start', () => {
  let folder: string;
  let dataDir: string;
  let port: number;
  const launchers: Launcher[] = [];

  function start(env: NodeJS.ProcessEnv = {}, args?: string[]): Launcher {
    const launcher = startLauncher({ PORT: String(port), DATA_DIR: dataDir, ...env }, args);
    launchers.push(launcher);
    return launcher;
  }

  function readDatabasePid(): number {
    return readPostmaster(path.join(dataDir, 'postgres'))?.pid ?? 0;
  }

  beforeEach(async () => {
    folder = createTemporaryFolder();
    dataDir = path.join(folder, 'data');
    port = await findFreePort();
  });

  afterEach(async () => {
    for (const launcher of launchers.splice(0)) {
      launcher.process.kill('SIGINT');
      await launcher.ended;
    }
    if (fs.existsSync(path.join(dataDir, 'postgres'))) await (await startEmbeddedPostgres({ dataDir })).stop();
    fs.rmSync(folder, { recursive: true, force: true });
  });

  it(
    'serves API and pages behind one port, says how to begin, and Ctrl-C stops all that it started',
    async () => {
      const launcher = start();
      await launcher.ready();
      expect(launcher.output()).toContain(`ready http://127.0.0.1:${port}`);
      expect(launcher.output()).toContain(`DATA_DIR='${dataDir}' npm run create-administrator -- --email`);
      expect((await fetch(`http://127.0.0.1:${port}/ready`)).status).toBe(200);
      const page = await fetch(`http://127.0.0.1:${port}/sign-in`);
      expect(page.status).toBe(200);
      expect(page.headers.get('content-type')).toContain('text/html');
      const databasePid = readDatabasePid();
      expect(isProcessAlive(databasePid)).toBe(true);

      launcher.process.kill('SIGINT');
      expect(await launcher.ended).toBe(0);
      expect(isProcessAlive(databasePid)).toBe(false);
      expect(await findPortProblem(port, '127.0.0.1')).toBeNull();
      expect(fs.readdirSync(dataDir)).not.toContain('launcher.pid');
    },
    FIRST_START * 1000,
  );

  it('leaves only the database when it is killed outright, and takes it over at the next start, within 15 s', async () => {
    const first = start();
    await first.ready();
    const databasePid = readDatabasePid();
    const children = findChildren(first.process.pid ?? 0, /dist\/main\.js|next/);
    expect(children).toHaveLength(2);
    first.process.kill('SIGKILL');
    await first.ended;
    await waitUntil(() => !children.some(isProcessAlive), 'API and page server end with their launcher');
    expect(await findPortProblem(port, '127.0.0.1')).toBeNull();
    expect(isProcessAlive(databasePid)).toBe(true);

    const second = start();
    expect(await second.ready()).toBeLessThan(SECOND_START);
    expect(readDatabasePid()).toBe(databasePid);
    expect(second.output()).toContain('took over the PostgreSQL');
  });

  it('comes back within 15 s after a kill of the database as well, with every row', async () => {
    const first = start();
    await first.ready();
    first.process.kill('SIGKILL');
    process.kill(-readDatabasePid(), 'SIGKILL');
    await first.ended;
    const second = start();
    expect(await second.ready()).toBeLessThan(SECOND_START);
  });

  it('says that the port is taken, and how to choose another', async () => {
    const other = net.createServer().listen(port, '127.0.0.1');
    try {
      const launcher = start();
      expect(await launcher.ended).toBe(1);
      expect(launcher.output()).toBe(
        `Port ${port} is taken by another program.\n` +
          `  What to do: Stop that program, or choose another port, for example "PORT=${port + 1} npm start".\n`,
      );
      expect(fs.existsSync(dataDir)).toBe(false);
    } finally {
      other.close();
    }
  });

  it('refuses a data folder that another one is using, and runs beside it on a folder of its own', async () => {
    const first = start();
    await first.ready();
    const sameFolder = start({ PORT: String(await findFreePort()) });
    expect(await sameFolder.ended).toBe(1);
    expect(sameFolder.output()).toContain(`Kedge already runs on the data folder ${dataDir}`);

    const otherDataDir = path.join(folder, 'other');
    const second = start({ PORT: String(await findFreePort()), DATA_DIR: otherDataDir });
    await second.ready();
    second.process.kill('SIGTERM');
    expect(await second.ended).toBe(0);
    expect((await fetch(`http://127.0.0.1:${port}/ready`)).status).toBe(200);
  });

  it('loads the demo once and says the same password again', async () => {
    const first = start({ DEMO_PASSWORD: 'four-words-for-a-demo' }, []);
    await first.ready();
    for (const name of ['engineer', 'installer', 'lead', 'admin', 'viewer', 'viewer2']) {
      expect(first.output()).toMatch(new RegExp(`^  ${name}@demo\\.example  +\\S`, 'm'));
    }
    const signIn = (): Promise<Response> =>
      fetch(`http://127.0.0.1:${port}/api/v1/sessions`, {
        method: 'POST',
        headers: { 'content-type': 'application/json' },
        body: JSON.stringify({ email: 'engineer@demo.example', password: 'four-words-for-a-demo' }),
      });
    expect((await signIn()).status).toBe(201);
    first.process.kill('SIGINT');
    await first.ended;

    const second = start({}, []);
    expect(await second.ready()).toBeLessThan(SECOND_START);
    expect(second.output()).toContain('password of all: four-words-for-a-demo');
    expect(second.output()).not.toContain('loading the demo');
    expect((await signIn()).status).toBe(201);
  });

  it('loads the demo over again when it was interrupted while loading', async () => {
    const first = start({}, []);
    while (!first.output().includes('loading the demo')) await delay(10);
    await waitUntil(() => fs.existsSync(path.join(dataDir, 'demo-loading')), 'loading begins');
    await delay(300);
    first.process.kill('SIGKILL');
    await first.ended;
    const second = start({}, []);
    await second.ready();
    expect(second.output()).toContain('engineer@demo.example');
    expect(fs.readdirSync(dataDir)).not.toContain('demo-loading');
  });

  it('uses a PostgreSQL of the user’s, and leaves it running', async () => {
    const database = await createEmptyDatabase();
    try {
      const appUrl = withUrlParts(database.ownerUrl, { user: `app_${database.name}`, password: 'app' });
      const launcher = start({ DATABASE_OWNER_URL: database.superuserUrl, DATABASE_URL: appUrl });
      await launcher.ready();
      expect(fs.existsSync(path.join(dataDir, 'postgres'))).toBe(false);
      launcher.process.kill('SIGINT');
      expect(await launcher.ended).toBe(0);
      const { rows } = await withConnection(database.superuserUrl, (client) =>
        client.query('SELECT count(*)::int AS migrations FROM _prisma_migrations'),
      );
      expect(rows[0]?.migrations).toBeGreaterThan(0);
    } finally {
      await database.drop();
    }
  });
});
