import { aCircuit, anOrganisation } from '../builders/world.js';
import { startApi, type TestApi } from '../support/api.js';

let api: TestApi;
beforeAll(async () => {
  api = await startApi();
});
afterAll(() => api.stop());

interface Entry {
  entity: string;
  entityId: string;
  subject: { name: string; machineId: string | null; machineName: string | null } | null;
}

it('the trail names each record and the machine that it belongs to', async () => {
  const organisation = await anOrganisation(api, 'Named');
  const engineer = await api.as(organisation.emails.engineer);
  await aCircuit(engineer, 'Named');
  const { items } = (await engineer.get('/audit-entries?limit=200').expect(200)).body as { items: Entry[] };
  const machine = items.find(({ entity }) => entity === 'machine');
  const machineName = machine?.subject?.name;
  expect(machine?.subject).toEqual({ name: expect.any(String), machineId: machine?.entityId, machineName });
  const ofMachine = items.filter(({ entity }) => ['power-unit', 'circuit', 'installed-component'].includes(entity));
  expect(new Set(ofMachine.map(({ entity }) => entity))).toContain('circuit');
  for (const { subject } of ofMachine) {
    expect(subject).toEqual({ name: expect.stringMatching(/./), machineId: machine?.entityId, machineName });
  }
  const customer = items.find(({ entity }) => entity === 'customer');
  expect(customer?.subject).toMatchObject({ machineId: null, machineName: null });

  // Another organisation's trail names nothing of this one.
  const stranger = await anOrganisation(api, 'Elsewhere');
  const other = await api.as(stranger.emails.engineer);
  expect((await other.get('/audit-entries').expect(200)).body.items).toEqual([]);
});
