import { setTimeout as delay } from 'node:timers/promises';
import { aCircuit, anOrganisation, asSuperuser, type CircuitWorld, type Organisation } from '../builders/world.js';
import { startApi, type TestApi, type TestClient } from '../support/api.js';
import { aBody, aGateway, anHour, aPlainMachine, type Gateway, type PlainMachine } from '../support/gateway.js';

let api: TestApi;
let organisation: Organisation;
let engineer: TestClient;
let lead: TestClient;
let base: CircuitWorld;
let speaking: PlainMachine;
let silent: PlainMachine;
let gateway: Gateway;

beforeAll(async () => {
  api = await startApi({ WORKER: 'inside', STANDINGS_LOOK_MS: '200' });
  organisation = await anOrganisation(api, 'Silent');
  engineer = await api.as(organisation.emails.engineer);
  lead = await api.as(organisation.emails.lead);
  base = await aCircuit(engineer, 'S');
  speaking = await aPlainMachine(engineer, base.siteId);
  silent = await aPlainMachine(engineer, base.siteId);
  gateway = await aGateway(api, await api.as(organisation.emails.administrator), {
    speaks: speaking.machineId,
    falters: silent.machineId,
  });
});
afterAll(() => api.stop());

interface Issue {
  id: string;
  title: string;
  kind: string;
  machineId: string | null;
  version: number;
}
const issues = async (): Promise<Issue[]> =>
  ((await lead.get('/issues?state=open').expect(200)).body as { items: Issue[] }).items;
const silentSince = async ({ machineId }: PlainMachine): Promise<string | null> => {
  const { body } = await engineer.get(`/machines/${machineId}/overview`).expect(200);
  return (body as { silentSince: string | null }).silentSince;
};
/** Lets what was due later be due now, and waits for somebody to look at it. */
async function lookAgain(until: () => Promise<boolean>): Promise<void> {
  for (let turn = 0; turn < 60; turn += 1) {
    await asSuperuser(api, (client) => client.query('UPDATE machine_reports SET due_at = now()'));
    await delay(250);
    if (await until()) return;
  }
  throw new Error('nobody has looked at it');
}
const mapBefore = (hours: number) =>
  asSuperuser(api, (client) =>
    client.query('UPDATE source_machines SET created_at = now() - make_interval(hours => $1)', [hours]),
  );

describe('A machine of which nothing is reported', () => {
  it('is marked from its last report on, on the fleet and for its customer, and opens one issue of its own while its gateway reports of others', async () => {
    await gateway.send(aBody('falters', [anHour('Station 1', 9)])).expect(200);
    await gateway.send(aBody('speaks', [anHour('Station 1', 1)])).expect(200);
    await mapBefore(48);
    await lookAgain(async () => (await issues()).length > 0);
    expect(await silentSince(silent)).toBe(anHour('Station 1', 9).to);
    expect(await silentSince(speaking)).toBeNull();
    const found = await issues();
    expect(found).toMatchObject([{ kind: 'silence', machineId: silent.machineId }]);
    expect(found[0]?.title).toMatch(/^No reports of VMC-\S+ from Gateway \S+$/);
    const { body: detail } = await lead.get(`/issues/${found[0]?.id}`).expect(200);
    const since = anHour('Station 1', 9).to;
    expect(detail).toMatchObject({
      evidence: null,
      silence: { silentAfterS: 7200, silences: [{ since, until: null }] },
    });
    const { body: fleet } = await engineer.get('/circuits/standings?limit=50').expect(200);
    const marks = (fleet as { items: { machineId: string; silentSince: string | null }[] }).items
      .filter(({ machineId }) => [silent.machineId, speaking.machineId].includes(machineId))
      .map((row) => [row.machineId, row.silentSince]);
    expect(new Map(marks as [string, string | null][])).toEqual(
      new Map([
        [silent.machineId, since],
        [speaking.machineId, null],
      ]),
    );
  });

  it('opens no second one, ends it in the evidence when it reports again, and a closed one does not come back by the same silence', async () => {
    const [issue] = await issues();
    await lookAgain(async () => {
      const rows = await asSuperuser(api, (client) =>
        client.query<{ is_told: boolean }>('SELECT is_told FROM machine_reports WHERE machine_id = $1', [
          silent.machineId,
        ]),
      );
      return rows.rows[0]?.is_told === true;
    });
    expect(await issues()).toHaveLength(1);
    await gateway.send(aBody('falters', [anHour('Station 1', 1)])).expect(200);
    await lookAgain(async () => (await silentSince(silent)) === null);
    const { body: detail } = await lead.get(`/issues/${issue?.id}`).expect(200);
    expect(detail).toMatchObject({ state: 'open', silence: { silences: [{ until: expect.any(String) as string }] } });
  });

  it('whose gateway is silent altogether opens one issue for the customer, not one for each machine', async () => {
    const [issue] = await issues();
    const { version } = (await lead.get(`/issues/${issue?.id}`).expect(200)).body as Issue;
    const headers = { 'if-match': `"v${version}"` };
    await lead.call('POST', `/issues/${issue?.id}/closing`, headers, { reason: 'plug of the network' }).expect(200);
    // From the end of the last interval on there is not a word.
    await asSuperuser(api, (client) =>
      client.query('UPDATE sources SET last_heard_at = $1, silent_after_s = 1', [anHour('Station 1', 1).to]),
    );
    await lookAgain(async () => (await issues()).length > 0 && (await silentSince(speaking)) !== null);
    expect(await issues()).toMatchObject([{ kind: 'silence', machineId: null }]);
    expect((await issues())[0]?.title).toMatch(/^No reports from Gateway \S+$/);
  });

  const silencesNow = async (): Promise<{ until: string | null }[]> => {
    const issue = (await issues()).find(({ machineId }) => machineId === null);
    const { body } = await lead.get(`/issues/${issue?.id}`).expect(200);
    return (body as { silence: { silences: { until: string | null }[] } }).silence.silences;
  };
  const allowQuietS = (seconds: number) =>
    asSuperuser(api, (client) => client.query('UPDATE sources SET silent_after_s = $1', [seconds]));

  it('of a gateway ends in the evidence when it may be quiet for longer, and begins again when it may not', async () => {
    expect(await silencesNow()).toMatchObject([{ until: null }]);
    await allowQuietS(86_400);
    await lookAgain(async () => (await silencesNow())[0]?.until !== null);
    expect(await silentSince(speaking)).toBeNull();
    await allowQuietS(1);
    await lookAgain(async () => (await silencesNow()).length === 2);
    expect(await silencesNow()).toMatchObject([{ until: expect.any(String) as string }, { until: null }]);
  });

  it('of a gateway ends in the evidence when that sends again with nothing to report', async () => {
    await gateway.send(aBody('speaks', [])).expect(200);
    await lookAgain(async () => (await silencesNow())[1]?.until !== null);
    expect(await silentSince(silent)).not.toBeNull();
    // A machine of which it still says nothing is told of by itself; one whose issue a person has closed is not, by the same silence.
    const ofMachines = (await issues()).filter(({ machineId }) => machineId !== null);
    expect(ofMachines.map(({ machineId }) => machineId)).toEqual([speaking.machineId]);
  });

  it('is not silent when nobody is to report of it', async () => {
    const { body } = await engineer.get(`/machines/${base.machineId}/overview`).expect(200);
    expect(body).toMatchObject({ silentSince: null });
    await asSuperuser(api, (client) => client.query('UPDATE sources SET archived_at = now()'));
    await lookAgain(async () => (await silentSince(silent)) === null && (await silentSince(speaking)) === null);
  });
});
