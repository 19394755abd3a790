import { findPortProblem } from '@repo/launcher/ports';
import { isProcessAlive } from '@repo/launcher/processes';
import { findChildren } from './support/processes.js';
import { StartBench, waitUntil } from './support/start-bench.js';

/** Seconds. */
const SECOND_START = 15;

describe('npm start, once more', () => {
  let bench: StartBench;
  beforeEach(async () => {
    bench = await StartBench.make();
  });
  afterEach(() => bench.clear());

  it('leaves only the database when it is killed outright, and takes it over at the next start, within 15 s', async () => {
    const first = bench.start();
    await first.ready();
    const databasePid = bench.readDatabasePid();
    const children = findChildren(first.process.pid ?? 0, /dist\/main\.js|next/);
    expect(children).toHaveLength(2);
    first.process.kill('SIGKILL');
    await first.ended;
    await waitUntil(() => !children.some(isProcessAlive), 'API and page server end with their launcher');
    expect(await findPortProblem(bench.port, '127.0.0.1')).toBeNull();
    expect(isProcessAlive(databasePid)).toBe(true);

    const second = bench.start();
    expect(await second.ready()).toBeLessThan(SECOND_START);
    expect(bench.readDatabasePid()).toBe(databasePid);
    expect(second.output()).toContain('took over the PostgreSQL');
  });

  it('comes back within 15 s after a kill of the database as well, with every row', async () => {
    const first = bench.start();
    await first.ready();
    first.process.kill('SIGKILL');
    process.kill(-bench.readDatabasePid(), 'SIGKILL');
    await first.ended;
    const second = bench.start();
    expect(await second.ready()).toBeLessThan(SECOND_START);
  });

  it('loads the demo once and says the same password again', async () => {
    const first = bench.start({ DEMO_PASSWORD: 'four-words-for-a-demo' }, []);
    await first.ready();
    for (const name of ['engineer', 'installer', 'lead', 'admin', 'viewer', 'viewer2']) {
      expect(first.output()).toMatch(new RegExp(`^  ${name}@demo\\.example  +\\S`, 'm'));
    }
    expect((await bench.signIn('four-words-for-a-demo')).status).toBe(201);
    first.process.kill('SIGINT');
    await first.ended;

    const second = bench.start({}, []);
    expect(await second.ready()).toBeLessThan(SECOND_START);
    expect(second.output()).toContain('password of all: four-words-for-a-demo');
    expect(second.output()).not.toContain('loading the demo');
    expect((await bench.signIn('four-words-for-a-demo')).status).toBe(201);
  });
});
