import { uuidv7 } from 'uuidv7';
import { addPerson, ago, aCircuit, anOrganisation, type CircuitWorld } from '../builders/world.js';
import { startApi, type TestApi, type TestClient } from '../support/api.js';

interface Event {
  id: string;
  kind: string;
  circuitName: string | null;
  occurredAt: string;
  text: string;
  personName: string;
  components: { designation: string; componentTypeName: string; serial: string; replaced: object | null }[];
}

let api: TestApi;
let engineer: TestClient;
let viewer: TestClient;
let world: CircuitWorld;
const exchangedAt = ago(20);
const removedAt = ago(5);

beforeAll(async () => {
  api = await startApi();
  const organisation = await anOrganisation(api, 'Served');
  engineer = await api.as(organisation.emails.engineer);
  world = await aCircuit(engineer, 'Served');
  await addPerson(api, organisation, 'viewer', 'viewer', world.customerId);
  viewer = await api.as(organisation.emails.viewer);
  const { machineId, circuitId, hoseTypeId } = world;
  const { body: hose } = await engineer.get(`/installed-components/${world.hoseId}`).expect(200);
  const { designation, lineFunctions } = hose as { designation: string; lineFunctions: string[] };
  const inIts = { machineId, circuitId, componentTypeId: hoseTypeId, designation, lineFunctions };
  const newer = { id: uuidv7(), ...inIts, serial: 'S-2', validFrom: exchangedAt, reason: 'it was chafed' };
  await engineer.post('/installed-components', { ...newer, replacesId: world.hoseId }).expect(201);
  const event = {
    id: uuidv7(),
    machineId,
    circuitId,
    kind: 'inspected',
    text: 'all dry',
    personName: 'Test installer',
  };
  await engineer.post('/service-events', { ...event, occurredAt: ago(10) }).expect(201);
  const removal = { validTo: removedAt, reason: 'not needed' };
  const removed = `/installed-components/${newer.id}/removal`;
  await engineer.post(removed, removal, { 'if-match': '"v1"' }).expect(200);
});
afterAll(() => api.stop());

const read = async (client: TestClient, query = ''): Promise<{ items: Event[]; nextCursor: string | null }> =>
  (await client.get(`/service-events?machineId=${world.machineId}${query}`).expect(200)).body;

describe('what was done to a machine', () => {
  it('tells what was fitted, exchanged and removed among what people wrote, newest first', async () => {
    const { items } = await read(engineer);
    expect(items.map(({ kind }) => kind).slice(0, 3)).toEqual([
      'component-removed',
      'inspected',
      'component-exchanged',
    ]);
    const [removed, , exchanged, ...fitted] = items;
    expect(removed).toMatchObject({ occurredAt: removedAt, text: 'not needed', circuitName: 'Station 1' });
    expect(removed?.components).toEqual([
      expect.objectContaining({ componentTypeName: 'hose Served', serial: 'S-2', replaced: null }),
    ]);
    expect(removed?.personName).toBe('Test engineer');
    expect(exchanged).toMatchObject({ occurredAt: exchangedAt, text: 'it was chafed', personName: 'Test engineer' });
    expect(exchanged?.components).toMatchObject([
      { serial: 'S-2', replaced: { componentTypeName: 'hose Served', serial: '' } },
    ]);
    // What was fitted at one moment at one place is one thing that was done.
    expect(fitted.every(({ kind }) => kind === 'component-fitted')).toBe(true);
    const { body } = await engineer.get(`/installed-components?machineId=${world.machineId}&limit=200`).expect(200);
    const parts = fitted.flatMap(({ components }) => components);
    expect(parts).toHaveLength((body as { items: unknown[] }).items.length - 1);
    expect(fitted.length).toBeLessThan(4);
  });

  it('goes on where a page ends, and leaves nothing out', async () => {
    const whole = (await read(engineer)).items.map(({ id, kind }) => [kind, id]);
    const byOne: unknown[] = [];
    for (let cursor: string | null = ''; cursor !== null;) {
      const page: Awaited<ReturnType<typeof read>> = await read(engineer, `&limit=1${cursor}`);
      byOne.push(...page.items.map(({ id, kind }) => [kind, id]));
      cursor = page.nextCursor === null ? null : `&cursor=${encodeURIComponent(page.nextCursor)}`;
    }
    expect(byOne).toEqual(whole);
  });

  it('is told to the customer’s people without the names of those who entered it', async () => {
    const { items } = await read(viewer);
    expect(items.map(({ kind }) => kind)).toEqual((await read(engineer)).items.map(({ kind }) => kind));
    expect(items[0]).toMatchObject({ kind: 'component-removed', personName: '' });
    expect(items[0]?.components).toMatchObject([{ componentTypeName: 'hose Served' }]);
  });
});
