import { uuidv7 } from 'uuidv7';
import { addPerson, ago, aCircuit, anOrganisation, type CircuitWorld, type Organisation } from '../builders/world.js';
import { startApi, type TestApi, type TestClient } from '../support/api.js';

let api: TestApi;
let organisation: Organisation;
let engineer: TestClient;
let viewer: TestClient;
let world: CircuitWorld;

beforeAll(async () => {
  api = await startApi();
  organisation = await anOrganisation(api, 'Handed');
  engineer = await api.as(organisation.emails.engineer);
  world = await aCircuit(engineer, 'Handed');
  await addPerson(api, organisation, 'viewer', 'viewer', world.customerId);
  viewer = await api.as(organisation.emails.viewer);
});
afterAll(() => api.stop());

interface Fitted {
  id: string;
  designation: string;
  componentTypeName: string;
  circuitId: string | null;
  ratedPressure: { value: number; unit: string } | null;
}
const readFitted = async (client: TestClient): Promise<Fitted[]> =>
  (await client.get(`/machines/${world.machineId}/setup`).expect(200)).body.components;

describe('components of a setup record', () => {
  it('are those that are fitted, with what they are rated for, to the customer’s people as to the integrator’s', async () => {
    const fitted = await readFitted(viewer);
    expect(fitted).toEqual(await readFitted(engineer));
    const { body } = await engineer.get(`/machines/${world.machineId}/overview`).expect(200);
    const { components } = body as {
      components: (Omit<Fitted, 'ratedPressure'> & {
        effectiveFigures: Record<string, { value: number; unit: string }>;
      })[];
    };
    const essence = ({ id, designation, componentTypeName, circuitId }: Omit<Fitted, 'ratedPressure'>) => ({
      ...{ id, designation, componentTypeName, circuitId },
    });
    expect(fitted.length).toBeGreaterThan(4);
    expect(fitted.map(essence)).toEqual(components.map(essence));
    expect(fitted.map(({ ratedPressure }) => ratedPressure?.value ?? null)).toEqual(
      components.map(({ effectiveFigures }) => effectiveFigures['ratedPressure']?.value ?? null),
    );
    expect(fitted.filter(({ ratedPressure }) => ratedPressure !== null).length).toBeGreaterThan(2);
  });

  it('go by their own rating before their type’s, and are gone once they are taken out', async () => {
    const id = uuidv7();
    const { machineId, circuitId, hoseTypeId: componentTypeId } = world;
    const rating = { ratedPressure: { value: 190, unit: 'bar', source: 'plate' } };
    const hose = { id, machineId, circuitId, componentTypeId, designation: 'H9.9', lineFunctions: ['clamp'] };
    await engineer
      .post('/installed-components', { ...hose, figures: rating, serial: 'S-7', validFrom: ago(2) })
      .expect(201);
    const added = (await readFitted(viewer)).find((one) => one.id === id);
    expect(added).toEqual({
      ...{ id, circuitId, kind: 'hose', designation: 'H9.9', componentTypeName: 'hose Handed', serial: 'S-7', lot: '' },
      ratedPressure: { value: 190, unit: 'bar' },
    });
    const removal = { validTo: ago(1), reason: 'over' };
    await engineer.post(`/installed-components/${id}/removal`, removal, { 'if-match': '"v1"' }).expect(200);
    expect((await readFitted(viewer)).map((one) => one.id)).not.toContain(id);
  });

  it('are nobody else’s, and the lists of components stay the integrator’s', async () => {
    await addPerson(api, organisation, 'other', 'viewer', (await aCircuit(engineer, 'Other')).customerId);
    const other = await api.as(organisation.emails.other);
    await other.get(`/machines/${world.machineId}/setup`).expect(404);
    await viewer.get(`/installed-components?machineId=${world.machineId}`).expect(403);
    await viewer.get(`/component-types/${world.hoseTypeId}`).expect(403);
  });
});
