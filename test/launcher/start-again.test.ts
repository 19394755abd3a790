import { findPortProblem } from '@repo/launcher/ports';
import { isProcessAlive } from '@repo/launcher/processes';
import type { Launcher } from './support/launcher.js';
import { findChildren } from './support/processes.js';
import { StartBench, waitUntil } from './support/start-bench.js';

/** Seconds. */
const SECOND_START = 15;
const PASSWORD = 'four-words-for-a-demo';

/** One folder of data, on which it is started four times: each test ends what the one before it left running. */
describe('npm start, once more', () => {
  let bench: StartBench;
  let running: Launcher;

  beforeAll(async () => {
    bench = await StartBench.make();
    running = bench.start({ DEMO_PASSWORD: PASSWORD }, []);
    await running.ready();
  });
  afterAll(() => bench.clear());

  /** Starts it with what the folder holds, which must not take long; the rows of the demonstration are there. */
  async function startAgain(): Promise<void> {
    running = bench.start({}, []);
    expect(await running.ready()).toBeLessThan(SECOND_START);
    expect((await bench.signIn(PASSWORD)).status).toBe(201);
  }

  it('loads the demo once and says the same password again', async () => {
    for (const name of ['engineer', 'installer', 'lead', 'admin', 'viewer', 'viewer2']) {
      expect(running.output()).toMatch(new RegExp(`^  ${name}@demo\\.example  +\\S`, 'm'));
    }
    expect((await bench.signIn(PASSWORD)).status).toBe(201);
    running.process.kill('SIGINT');
    await running.ended;

    await startAgain();
    expect(running.output()).toContain(`password of all: ${PASSWORD}`);
    expect(running.output()).not.toContain('loading the demo');
    expect(running.output()).not.toContain('took over the PostgreSQL');
  });

  it('leaves only the database when it is killed outright, and takes it over at the next start, within 15 s', async () => {
    const databasePid = bench.readDatabasePid();
    const children = findChildren(running.process.pid ?? 0, /dist\/main\.js|next/);
    expect(children).toHaveLength(2);
    running.process.kill('SIGKILL');
    await running.ended;
    await waitUntil(() => !children.some(isProcessAlive), 'API and page server end with their launcher');
    expect(await findPortProblem(bench.port, '127.0.0.1')).toBeNull();
    expect(isProcessAlive(databasePid)).toBe(true);

    await startAgain();
    expect(bench.readDatabasePid()).toBe(databasePid);
    expect(running.output()).toContain('took over the PostgreSQL');
  });

  it('comes back within 15 s after a kill of the database as well, with every row', async () => {
    const databasePid = bench.readDatabasePid();
    running.process.kill('SIGKILL');
    process.kill(-databasePid, 'SIGKILL');
    await running.ended;
    await startAgain();
    expect(bench.readDatabasePid()).not.toBe(databasePid);
  });
});
