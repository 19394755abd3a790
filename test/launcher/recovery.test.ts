import { execFileSync } from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';
import { problemSchema } from '@repo/contracts';
import { startEmbeddedPostgres } from '@repo/launcher/embedded-postgres';
import { findFreePort } from '@repo/launcher/ports';
import { isProcessAlive, readPostmaster } from '@repo/launcher/processes';
import { ask } from './support/ask.js';
import { startLauncher, type Launcher } from './support/launcher.js';
import { findChildren } from './support/processes.js';
import { createTemporaryFolder } from './support/temporary-folder.js';

const API = /apps\/api\/dist\/main\.js/;
const WEB = /next/;
const PATIENCE_MS = 30_000;

async function until<T>(what: string, find: () => T | undefined | Promise<T | undefined>): Promise<T> {
  for (const startedAt = Date.now(); Date.now() - startedAt < PATIENCE_MS; await delay(20)) {
    const found = await find();
    if (found !== undefined) return found;
  }
  throw new Error(`waited in vain: ${what}`);
}

describe('What dies under npm start', () => {
  let folder: string;
  let dataDir: string;
  let base: string;
  let launcher: Launcher;

  const pidOf = (name: RegExp): number | undefined => findChildren(launcher.process.pid ?? 0, name)[0];
  const readDatabasePid = (): number | undefined => readPostmaster(path.join(dataDir, 'postgres'))?.pid;
  const statusOf = async (at: string): Promise<number> => (await ask(`${base}${at}`)).status;

  /** The kinds of answers from the kill on, until it answers well again; a refused connection would throw. */
  async function watchAnswers(at: string): Promise<number[]> {
    const seen = new Set<number>();
    await until(`${at} answers 200 after 503`, async () => {
      const status = await statusOf(at);
      seen.add(status);
      return (seen.has(503) && status === 200) || undefined;
    });
    return [...seen].sort();
  }

  async function kill(find: () => number | undefined): Promise<void> {
    const pid = await until('it runs', find);
    process.kill(pid, 'SIGKILL');
    await until('it is gone', () => !isProcessAlive(pid) || undefined);
  }

  beforeAll(async () => {
    folder = createTemporaryFolder();
    dataDir = path.join(folder, 'data');
    const port = await findFreePort();
    base = `http://127.0.0.1:${port}`;
    launcher = startLauncher({ PORT: String(port), DATA_DIR: dataDir });
    await launcher.ready();
  }, 300_000);

  afterAll(async () => {
    launcher.process.kill('SIGINT');
    await launcher.ended;
    if (fs.existsSync(path.join(dataDir, 'postgres'))) await (await startEmbeddedPostgres({ dataDir })).stop();
    fs.rmSync(folder, { recursive: true, force: true });
  });

  it('is started again: the API; the door stays and says when to come back, to programs and to people', async () => {
    const hardened = await ask(`${base}/api/v1/openapi.json`);
    await kill(() => pidOf(API));
    const answer = await ask(`${base}/api/v1/machines?limit=1`);
    expect(answer.status).toBe(503);
    expect(answer.headers['retry-after']).toBe('3');
    expect(answer.headers['content-type']).toBe('application/problem+json');
    const problem = problemSchema.parse(JSON.parse(answer.body));
    expect(problem).toMatchObject({ code: 'service.unavailable', instance: '/api/v1/machines', status: 503 });
    expect(problem.requestId).toBe(answer.headers['x-request-id']);
    for (const name of ['content-security-policy', 'x-frame-options', 'referrer-policy', 'permissions-policy']) {
      expect([name, answer.headers[name]]).toEqual([name, hardened.headers[name]]);
    }
    const page = await ask(`${base}/fleet`);
    expect(page.status).toBe(503);
    expect(page.headers['retry-after']).toBe('3');
    expect(page.body).toContain('Kedge is starting');
    expect(await watchAnswers('/ready')).toEqual([200, 503]);
    expect(await statusOf('/sign-in')).toBe(200);
    expect(launcher.output()).toContain('api ended (SIGKILL); it is started again in 0.25 s');
    await until('it says so', () => launcher.output().includes('the API answers again') || undefined);
  });

  it('is started again: the page server, while the API goes on', async () => {
    await kill(() => pidOf(WEB));
    expect(await statusOf('/ready')).toBe(200);
    expect(await watchAnswers('/sign-in')).toEqual([200, 503]);
    expect(launcher.output()).toContain('web ended (SIGKILL); it is started again in 0.25 s');
  });

  it('is started again: the database, on the port it had; the API finds it by itself', async () => {
    const api = pidOf(API);
    await kill(readDatabasePid);
    expect(await watchAnswers('/ready')).toEqual([200, 503]);
    expect(pidOf(API)).toBe(api);
    expect(launcher.output()).toContain('the database ended; it is started again in 0.25 s');
  });

  it('is not started again when it dies five times within a minute: all ends, and says why', async () => {
    const web = pidOf(WEB) ?? 0;
    let kills = 0;
    const isOver = (): boolean => launcher.process.exitCode !== null;
    while (!isOver()) {
      const pid = await until('it runs or all is over', () => pidOf(API) ?? (isOver() || undefined));
      if (typeof pid === 'number') {
        process.kill(pid, 'SIGKILL');
        kills += 1;
        await until('it is gone', () => !isProcessAlive(pid) || undefined);
      }
    }
    expect(await launcher.ended).toBe(1);
    expect(kills).toBeGreaterThanOrEqual(4);
    expect(kills).toBeLessThanOrEqual(5);
    expect(launcher.output()).toContain('It died 5 times within a minute, so it is not started again.');
    for (const pause of [0.25, 0.5, 1, 2]) expect(launcher.output()).toContain(`it is started again in ${pause} s`);
    expect(isProcessAlive(web)).toBe(false);
    await expect(statusOf('/ready')).rejects.toThrow('ECONNREFUSED');
  });
});

describe('The front door with a certificate', () => {
  let folder: string;
  let launcher: Launcher;
  let port: number;

  async function askSecurely(at: string): Promise<{ status: number; lasting: unknown }> {
    const { status, headers } = await ask(`https://127.0.0.1:${port}${at}`);
    return { status, lasting: headers['strict-transport-security'] };
  }

  beforeAll(async () => {
    folder = createTemporaryFolder();
    port = await findFreePort();
    const [key, cert] = [path.join(folder, 'key.pem'), path.join(folder, 'cert.pem')];
    const made = ['-newkey', 'ec', '-pkeyopt', 'ec_paramgen_curve:P-256', '-nodes', '-subj', '/CN=localhost'];
    execFileSync('openssl', ['req', '-x509', ...made, '-keyout', key, '-out', cert], { stdio: 'ignore' });
    const dataDir = path.join(folder, 'data');
    launcher = startLauncher({ PORT: String(port), DATA_DIR: dataDir, TLS_CERT: cert, TLS_KEY: key });
    await launcher.ready();
  });

  afterAll(async () => {
    launcher.process.kill('SIGINT');
    await launcher.ended;
    fs.rmSync(folder, { recursive: true, force: true });
  });

  it('stays encrypted while the API is started again', async () => {
    expect(await askSecurely('/ready')).toEqual({ status: 200, lasting: 'max-age=31536000' });
    const [api] = findChildren(launcher.process.pid ?? 0, API);
    if (api === undefined) throw new Error('the API does not run');
    process.kill(api, 'SIGKILL');
    expect(await askSecurely('/api/v1/machines')).toEqual({ status: 503, lasting: 'max-age=31536000' });
    await until('it answers again', async () => (await askSecurely('/ready')).status === 200 || undefined);
  });
});
