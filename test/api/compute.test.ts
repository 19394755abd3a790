import type { AddressInfo } from 'node:net';
import { setTimeout as pause } from 'node:timers/promises';
import { anOrganisation, type Organisation } from '../builders/world.js';
import { measureLive } from '../drill/live-under-load.mjs';
import { PASSWORD, startApi } from '../support/api.js';
import { Askers, ComputePool } from '../support/shared.js';

/** Takes a second or more, whatever the machine. */
const LONG = { k: 0.5, h: 240, shift: 0.1 };
const CALCULATIONS = new URL('../../apps/api/dist/modules/calculations/calculations.thread.js', import.meta.url);
/** Goes through a thread, for it has a list, and takes no time there. */
const SHORT = {
  working: { value: 150, unit: 'bar' },
  highest: { value: 200, unit: 'bar' },
  spans: { value: [160, 250, 400], unit: 'bar' },
};

/** Calls over the network, so that a caller can leave. */
interface Caller {
  calculate(id: string, inputs: object, signal?: AbortSignal): Promise<Response>;
}

let first: Organisation;
let second: Organisation;

/** An API that listens, with two organisations. */
async function listen(overrides: Record<string, string>) {
  const api = await startApi(overrides);
  first = await anOrganisation(api, 'First');
  second = await anOrganisation(api, 'Second');
  await api.app.listen(0, '127.0.0.1');
  const { port } = api.app.getHttpServer().address() as AddressInfo;
  const origin = `http://127.0.0.1:${port}`;
  const signIn = async (email: string | undefined): Promise<string> => {
    const { headers } = await fetch(`${origin}/api/v1/sessions`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ email, password: PASSWORD }),
    });
    return headers.get('set-cookie')?.split(';', 1)[0] ?? '';
  };
  const as = async (email: string | undefined): Promise<Caller> => {
    const cookie = await signIn(email);
    return {
      calculate: (id, inputs, signal) =>
        fetch(`${origin}/api/v1/calculations/${id}`, {
          method: 'POST',
          headers: { 'content-type': 'application/json', cookie },
          body: JSON.stringify(inputs),
          signal: signal ?? null,
        }),
    };
  };
  const stop = async (): Promise<void> => {
    // Callers that hold their connections would be waited for.
    api.app.getHttpServer().closeAllConnections();
    await api.stop();
  };
  return { api, origin, as, signIn, stop };
}
type Listening = Awaited<ReturnType<typeof listen>>;

const read = async (response: Response) => ({
  status: response.status,
  body: (await response.json()) as Record<string, unknown>,
});

describe('calculations that take long, in one thread', () => {
  let listening: Listening;
  let ann: Caller;
  let abe: Caller;
  let bea: Caller;
  beforeAll(async () => {
    listening = await listen({ COMPUTE_THREADS: '1', COMPUTE_SECONDS: '60' });
    ann = await listening.as(first.emails.engineer);
    abe = await listening.as(first.emails.lead);
    bea = await listening.as(second.emails.engineer);
  });
  afterAll(() => listening.stop());

  it('give what the command line gives, to the last digit, and problems with their field', async () => {
    const right = await read(await ann.calculate('ewma-arl', { lambda: 0.1, limit: 2.814 }));
    expect(right).toEqual({ status: 200, body: { arl: expect.closeTo(499.57955, 4), notes: [] } });
    const wrong = await read(await ann.calculate('normal-cusum-arl', { k: 0.5, h: 1e9 }));
    expect(wrong).toMatchObject({
      status: 422,
      body: { code: 'calculation.problem', errors: [{ field: 'h', code: 'too-many' }] },
    });
  });

  it('a long result comes whole, piece by piece', async () => {
    const cylinder = (index: number) => ({
      count: 1,
      bore: { value: 20 + index / 10, unit: 'mm' },
      rod: { value: 12, unit: 'mm' },
      stroke: { value: 5 + index / 10, unit: 'mm' },
      friction: { value: 50 + index, unit: 'N' },
      viscousFriction: { value: 400, unit: 'N.s/m' },
      contactStiffness: { value: 40, unit: 'N/um' },
    });
    const response = await ann.calculate('clamp-sequence', {
      pump: { freeFlow: { value: 1.2, unit: 'L/min' }, stallPressure: { value: 210, unit: 'bar' } },
      supplyResistance: { value: 2, unit: 'bar.min/L' },
      returnResistance: { value: 1, unit: 'bar.min/L' },
      lineVolume: { value: 300, unit: 'mL' },
      oil: { bulkModulus: { value: 1400, unit: 'MPa' }, airFraction: 0.005 },
      cylinders: Array.from({ length: 40 }, (_, index) => cylinder(index)),
      switchRising: { value: 150, unit: 'bar' },
    });
    const text = await response.text();
    expect(response.headers.get('content-length')).toBe(String(Buffer.byteLength(text)));
    expect(text.length).toBeGreaterThan(2 * 65_536);
    expect((JSON.parse(text) as { contacts: { value: unknown[] } }).contacts.value).toHaveLength(40);
  });

  it('organisations take turns: one who asks for many keeps another waiting for one', async () => {
    const ended: string[] = [];
    const endOf = async (name: string, response: Promise<Response>) => {
      expect((await response).status).toBe(200);
      ended.push(name);
    };
    const many = Array.from({ length: 5 }, () => endOf('ann', ann.calculate('normal-cusum-arl', LONG)));
    await pause(300);
    await Promise.all([
      ...many,
      endOf('bea', bea.calculate('gauge-choice', SHORT)),
      endOf('abe', abe.calculate('gauge-choice', SHORT)),
    ]);
    // One of Ann's was running; then the other organisation, then hers: the other person, and she again.
    expect(ended.indexOf('bea')).toBe(1);
    expect(ended.indexOf('abe')).toBeLessThanOrEqual(3);
  });

  it('more than a person may have waiting is refused with Retry-After, and is nobody else’s trouble', async () => {
    const leaving = new AbortController();
    const many = Array.from({ length: 30 }, () =>
      ann.calculate('normal-cusum-arl', LONG, leaving.signal).catch(() => null),
    );
    await pause(500);
    const refused = await ann.calculate('gauge-choice', SHORT);
    expect(refused.headers.get('retry-after')).toMatch(/^\d+$/);
    expect(await read(refused)).toMatchObject({ status: 503, body: { code: 'service.busy' } });
    expect((await bea.calculate('gauge-choice', SHORT)).status).toBe(200);
    leaving.abort();
    const statuses = (await Promise.all(many)).map((response) => response?.status ?? 'left');
    expect(statuses.filter((status) => status === 503).length).toBe(13);
  });

  it('nothing is computed for callers who have left: the next one does not wait for theirs', async () => {
    const leaving = new AbortController();
    const left = Array.from({ length: 16 }, () =>
      ann.calculate('normal-cusum-arl', LONG, leaving.signal).catch(() => null),
    );
    await pause(300);
    leaving.abort();
    await Promise.all(left);
    const from = performance.now();
    expect((await ann.calculate('gauge-choice', SHORT)).status).toBe(200);
    const oneLong = performance.now();
    expect((await ann.calculate('normal-cusum-arl', LONG)).status).toBe(200);
    // The sixteen would have taken sixteen times as long as one.
    expect(oneLong - from).toBeLessThan(3 * (performance.now() - oneLong));
  });
});

describe('calculations at their limits', () => {
  let listening: Listening;
  let ann: Caller;
  beforeAll(async () => {
    listening = await listen({ COMPUTE_SECONDS: '0.4' });
    ann = await listening.as(first.emails.engineer);
  });
  afterAll(() => listening.stop());

  it('one that takes longer than it may is ended with a sentence, and the next one runs', async () => {
    const ended = await read(await ann.calculate('normal-cusum-arl', LONG));
    expect(ended).toMatchObject({ status: 422, body: { code: 'calculation.too-much' } });
    expect(ended.body.detail).toMatch(/^It was ended after 0\.4 seconds\./);
    // A new thread takes its time to begin, on a busy machine more than it has here.
    let status = 0;
    for (let round = 0; round < 20 && status !== 200; round += 1)
      ({ status } = await ann.calculate('gauge-choice', SHORT));
    expect(status).toBe(200);
  });

  it('a job takes longer than anybody before a page would wait, and is not failed by a busy moment', async () => {
    const { app } = listening.api;
    const asker = { organisation: 'first', person: 'ann', signal: null };
    const compute = (isPatient: boolean) =>
      app
        .get(Askers)
        .run({ ...asker, isPatient }, () =>
          app.get(ComputePool).run<unknown>(CALCULATIONS, { id: 'normal-cusum-arl', inputs: LONG }),
        );
    await expect(compute(false)).rejects.toMatchObject({ code: 'calculation.too-much' });
    expect(await compute(true)).toHaveProperty('json');
  });

  it('/live answers within 100 ms at the 99th percentile while twenty people send every calculation at its corners', async () => {
    const { origin, signIn } = listening;
    const emails = [first, second].flatMap((organisation) => Object.values(organisation.emails));
    const cookies = await Promise.all(emails.map((email) => signIn(email)));
    const { statuses, asked, at99Ms } = await measureLive({ origin, cookies, senders: 20, seconds: 5 });
    expect(asked).toBeGreaterThan(50);
    expect(Object.keys(statuses).filter((status) => !['200', '413', '422', '503'].includes(status))).toEqual([]);
    expect(statuses['200']).toBeGreaterThan(50);
    expect(at99Ms).toBeLessThan(100);
  });
});
