import { spawn, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import fs from 'node:fs';
import path from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';
import { bringUpToDate } from '@repo/launcher/bring-up-to-date';
import { withConnection } from '@repo/launcher/connection';
import { startEmbeddedPostgres } from '@repo/launcher/embedded-postgres';
import { findFreePort } from '@repo/launcher/ports';
import { isProcessAlive } from '@repo/launcher/processes';
import { ensureRoles } from '@repo/launcher/roles';
import { parse } from 'yaml';
import { ask } from './support/ask.js';
import { findChildren } from './support/processes.js';
import { createTemporaryFolder } from './support/temporary-folder.js';

const ROOT = path.resolve(import.meta.dirname, '../..');
const API = /apps\/api\/dist\/main\.js/;

const { services } = parse(fs.readFileSync(path.join(ROOT, 'docker-compose.yml'), 'utf8')) as {
  services: Record<string, { command?: string[]; environment?: Record<string, string> }>;
};

/** Stands for `restart: unless-stopped`: the command of a service, begun anew whenever it ends. */
class Restarted {
  starts = 0;
  output = '';
  private child: ChildProcess | null = null;
  private isStopping = false;
  private readonly over: Promise<void>;

  constructor(service: string, env: Record<string, string>) {
    const [, ...args] = services[service]?.command ?? [];
    this.over = this.keepRunning(args, env);
  }

  get pid(): number {
    return this.child?.pid ?? 0;
  }

  async stop(): Promise<void> {
    this.isStopping = true;
    this.child?.kill('SIGTERM');
    await this.over;
  }

  private async keepRunning(args: string[], env: Record<string, string>): Promise<void> {
    while (!this.isStopping) {
      const child = spawn(process.execPath, args, {
        cwd: ROOT,
        env: { ...process.env, ...env },
        stdio: ['ignore', 'pipe', 'inherit'],
      });
      child.stdout.on('data', (chunk: Buffer) => (this.output += chunk.toString('utf8')));
      this.child = child;
      this.starts += 1;
      await once(child, 'exit');
      await delay(100);
    }
  }
}

async function until(what: string, isTrue: () => boolean | Promise<boolean>): Promise<void> {
  for (const startedAt = Date.now(); Date.now() - startedAt < 30_000; await delay(20)) if (await isTrue()) return;
  throw new Error(`waited in vain: ${what}`);
}

describe('The commands of docker-compose.yml, run without an engine', () => {
  let folder: string;
  let server: Awaited<ReturnType<typeof startEmbeddedPostgres>>;
  let base: string;
  let api: Restarted;
  let worker: Restarted;
  let guard: Restarted;
  let appUrl: string;

  const isHeld = (): Promise<boolean> =>
    withConnection(appUrl, (client) =>
      client.query(`SET lock_timeout = 200; ALTER ROLE kedge_app SET search_path = 'elsewhere'`),
    ).then(
      () => false,
      (error: unknown) => String(error).includes('lock timeout'),
    );
  const statusOf = (at: string): Promise<number> =>
    ask(`${base}${at}`).then(
      ({ status }) => status,
      () => 0,
    );
  const isReady = async (): Promise<boolean> => (await statusOf('/ready')) === 200;

  beforeAll(async () => {
    folder = createTemporaryFolder();
    server = await startEmbeddedPostgres({ dataDir: folder, settings: { fsync: 'off' } });
    const urls = await ensureRoles({ superuserUrl: server.url });
    const { ownerUrl, gateUrl, backupUrl } = urls;
    appUrl = urls.appUrl;
    await bringUpToDate({ ownerUrl });
    const port = await findFreePort();
    base = `http://127.0.0.1:${port}`;
    const env = {
      ...{ DATABASE_URL: appUrl, DATABASE_GATE_URL: gateUrl, LOG_LEVEL: 'silent', NODE_ENV: 'production' },
      ...{ APP_SECRET: 'a secret of at least thirty-two bytes', PORT: String(port), HOST: '127.0.0.1' },
    };
    api = new Restarted('api', { ...env, WORKER: services['api']?.environment?.['WORKER'] ?? '' });
    worker = new Restarted('worker', env);
    const logins = { DATABASE_OWNER_URL: ownerUrl, DATABASE_URL: appUrl, DATABASE_GATE_URL: gateUrl };
    guard = new Restarted('database-guard', { SUPERUSER_URL: server.url, ...logins, DATABASE_BACKUP_URL: backupUrl });
    await until('the logins are held', () => guard.output.includes('are held'));
    await until('the API answers', isReady);
    await until('the worker is ready', () => worker.output.includes('the worker is ready'));
  });

  afterAll(async () => {
    await Promise.all([api.stop(), worker.stop(), guard.stop()]);
    await server.stop();
    fs.rmSync(folder, { recursive: true, force: true });
  });

  it('keep the front door while the API is started again', async () => {
    const [pid] = findChildren(api.pid, API);
    if (pid === undefined) throw new Error('no API runs behind the front door');
    process.kill(pid, 'SIGKILL');
    await until('it is gone', () => !isProcessAlive(pid));
    expect(await statusOf('/api/v1/machines')).toBe(503);
    await until('the API answers', isReady);
    expect(api.starts).toBe(1);
  });

  it('leave no API behind when the front door itself is killed, and begin anew', async () => {
    const [pid] = findChildren(api.pid, API);
    if (pid === undefined) throw new Error('no API runs behind the front door');
    process.kill(api.pid, 'SIGKILL');
    await until('the API behind it ends', () => !isProcessAlive(pid));
    await until('the API answers', isReady);
    expect(api.starts).toBe(2);
  });

  it('keep the logins of the database from changing themselves', async () => {
    expect(await isHeld()).toBe(true);
  });

  it('begin a killed worker anew', async () => {
    process.kill(worker.pid, 'SIGKILL');
    await until('it is ready a second time', () => worker.output.split('the worker is ready').length === 3);
  });

  it('outlive the database: 503 while it is away, and the API and its front door are the same afterwards', async () => {
    const [{ pid, port }, saidBefore] = [server, api.output];
    process.kill(-pid, 'SIGKILL');
    await until('it is gone', () => !isProcessAlive(pid));
    expect(await statusOf('/ready')).toBe(503);
    server = await startEmbeddedPostgres({ dataDir: folder, port, settings: { fsync: 'off' } });
    await until('the API answers', isReady);
    expect(api.starts).toBe(2);
    expect(api.output).toBe(saidBefore);
    await until('the logins are held again', isHeld);
    expect(guard.starts).toBe(1);
  });
});
