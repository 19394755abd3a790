import fs from 'node:fs';
import net from 'node:net';
import path from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';
import { withConnection, withUrlParts } from '@repo/launcher/connection';
import { findFreePort, findPortProblem } from '@repo/launcher/ports';
import { isProcessAlive } from '@repo/launcher/processes';
import { createEmptyDatabase } from '../support/database.mjs';
import { StartBench, waitUntil } from './support/start-bench.js';

/** Seconds; the first start of a test run may find something to build. */
const FIRST_START = 300;

describe('npm start', () => {
  let bench: StartBench;
  beforeEach(async () => {
    bench = await StartBench.make();
  });
  afterEach(() => bench.clear());

  it(
    'serves API and pages behind one port, says how to begin, and Ctrl-C stops all that it started',
    async () => {
      const launcher = bench.start();
      await launcher.ready();
      expect(launcher.output()).toContain(`ready http://127.0.0.1:${bench.port}`);
      expect(launcher.output()).toContain(`DATA_DIR='${bench.dataDir}' npm run create-administrator -- --email`);
      expect((await fetch(`http://127.0.0.1:${bench.port}/ready`)).status).toBe(200);
      const page = await fetch(`http://127.0.0.1:${bench.port}/sign-in`);
      expect(page.status).toBe(200);
      expect(page.headers.get('content-type')).toContain('text/html');
      const databasePid = bench.readDatabasePid();
      expect(isProcessAlive(databasePid)).toBe(true);

      launcher.process.kill('SIGINT');
      expect(await launcher.ended).toBe(0);
      expect(isProcessAlive(databasePid)).toBe(false);
      expect(await findPortProblem(bench.port, '127.0.0.1')).toBeNull();
      expect(fs.readdirSync(bench.dataDir)).not.toContain('launcher.pid');
    },
    FIRST_START * 1000,
  );

  it('says that the port is taken, and how to choose another', async () => {
    const other = net.createServer().listen(bench.port, '127.0.0.1');
    try {
      const launcher = bench.start();
      expect(await launcher.ended).toBe(1);
      expect(launcher.output()).toBe(
        `Port ${bench.port} is taken by another program.\n` +
          `  What to do: Stop that program, or choose another port, for example "PORT=${bench.port + 1} npm start".\n`,
      );
      expect(fs.existsSync(bench.dataDir)).toBe(false);
    } finally {
      other.close();
    }
  });

  it('refuses a data folder that another one is using, and runs beside it on a folder of its own', async () => {
    const first = bench.start();
    await first.ready();
    const sameFolder = bench.start({ PORT: String(await findFreePort()) });
    expect(await sameFolder.ended).toBe(1);
    expect(sameFolder.output()).toContain(`Kedge already runs on the data folder ${bench.dataDir}`);

    const otherDataDir = path.join(bench.folder, 'other');
    const second = bench.start({ PORT: String(await findFreePort()), DATA_DIR: otherDataDir });
    await second.ready();
    second.process.kill('SIGTERM');
    expect(await second.ended).toBe(0);
    expect((await fetch(`http://127.0.0.1:${bench.port}/ready`)).status).toBe(200);
  });

  it('loads the demo over again when it was interrupted while loading', async () => {
    const first = bench.start({}, []);
    while (!first.output().includes('loading the demo')) await delay(10);
    await waitUntil(() => fs.existsSync(path.join(bench.dataDir, 'demo-loading')), 'loading begins');
    await delay(300);
    first.process.kill('SIGKILL');
    await first.ended;
    const second = bench.start({}, []);
    await second.ready();
    expect(second.output()).toContain('engineer@demo.example');
    expect(fs.readdirSync(bench.dataDir)).not.toContain('demo-loading');
  });

  it('uses a PostgreSQL of the user’s, and leaves it running', async () => {
    const database = await createEmptyDatabase();
    try {
      const appUrl = withUrlParts(database.ownerUrl, { user: `app_${database.name}`, password: 'app' });
      const launcher = bench.start({ DATABASE_OWNER_URL: database.superuserUrl, DATABASE_URL: appUrl });
      await launcher.ready();
      expect(fs.existsSync(path.join(bench.dataDir, 'postgres'))).toBe(false);
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
