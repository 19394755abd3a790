import { rowsOf } from '../builders/copied-rows.js';
import { aCircuit, anOrganisation, buildCircuit } from '../builders/world.js';
import { startApi, type TestApi } from '../support/api.js';

let api: TestApi;
beforeAll(async () => {
  api = await startApi();
});
afterAll(() => api.stop());

/**
 * What lies in the organisation, without which ids it has, when it was written and by which request: ids are named in the order in which they
 * were made.
 */
async function contentsOf(organisationId: string, ids: object): Promise<unknown> {
  const text = JSON.stringify([ids, await rowsOf(api.db.superuserUrl, organisationId)]).replaceAll(
    /request_id\\": \\"[^"]+"/g,
    'request_id\\": \\"asked\\"',
  );
  const found = [...new Set(text.match(/[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}/g))].sort();
  const named = new Map(found.map((id, index) => [id, `id ${index}`]));
  const withoutIds = text.replaceAll(/[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}/g, (id) => named.get(id) ?? id);
  const [names, rows] = JSON.parse(withoutIds.replaceAll(/\d{4}-\d\d-\d\d[T ][\d:.]+(Z|\+00:00)/g, 'then')) as [
    object,
    Record<string, string[]>,
  ];
  return [names, Object.fromEntries(Object.entries(rows).map(([table, texts]) => [table, [...texts].sort()]))];
}

describe('a circuit that tests copy', () => {
  it.each(['W', 'F', 'Long name 2'])('named %s is row by row the one that the API writes', async (name) => {
    const [builtIn, copiedIn] = [await anOrganisation(api, 'Built'), await anOrganisation(api, 'Built')];
    const built = await buildCircuit(await api.as(builtIn.emails.engineer), name);
    const copied = await aCircuit(await api.as(copiedIn.emails.engineer), name);
    const rowsThere = await rowsOf(api.db.superuserUrl, copiedIn.id);
    expect(Object.keys(rowsThere).length).toBeGreaterThan(20);
    expect(await contentsOf(copiedIn.id, copied)).toEqual(await contentsOf(builtIn.id, built));
  });

  it('is built by the API where the organisation asks for other margins', async () => {
    const { emails } = await anOrganisation(api, 'Strict');
    const [engineer, administrator] = [await api.as(emails.engineer), await api.as(emails.administrator)];
    const { version, marginsAsked } = (await engineer.get('/organisation').expect(200)).body as {
      version: number;
      marginsAsked: Record<string, number>;
    };
    const strict = { marginsAsked: { ...marginsAsked, 'holds-workpiece': 0.9 } };
    await administrator.patch('/organisation', version, strict).expect(200);
    const { circuitId } = await aCircuit(engineer, 'S');
    const { body } = await engineer.get('/circuits/standings').expect(200);
    expect(body.items).toMatchObject([{ circuitId, status: 'marginal' }]);
  });
});
