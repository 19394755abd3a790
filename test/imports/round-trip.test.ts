import { EXPORT_TABLE_NAMES, EXPORT_TABLES, IMPORT_ENTITIES, type ExportTable } from '@repo/contracts';
import { aCircuit, anOrganisation, type CircuitWorld } from '../builders/world.js';
import { startApi, type TestApi, type TestClient } from '../support/api.js';
import { tryFile, type ImportClient } from './support/import-client.js';

let api: TestApi;
let engineer: TestClient;
let stranger: TestClient;
let world: CircuitWorld;

beforeAll(async () => {
  api = await startApi({ WORKER: 'inside' });
  engineer = await api.as((await anOrganisation(api, 'Full')).emails.engineer);
  stranger = await api.as((await anOrganisation(api, 'Empty')).emails.engineer);
  world = await aCircuit(engineer, 'R');
});
afterAll(() => api.stop());

/** The tables that read back, what others hang on first. */
const IMPORTABLE = IMPORT_ENTITIES.map((entity) => {
  const table = EXPORT_TABLE_NAMES.find(
    (one) => 'entity' in EXPORT_TABLES[one] && EXPORT_TABLES[one].entity === entity,
  );
  if (table === undefined) throw new Error(`${entity} is not exported as it is imported`);
  return table;
});
/** What keeps that an import was there, and goes on whatever is undone. */
const TRAIL: readonly ExportTable[] = ['audit-entries', 'imports', 'jobs', 'memberships'];

const exportOf = async (client: TestClient, table: string): Promise<string> =>
  (await client.get(`/exports/${table}?format=csv`).expect(200)).text;
/** Rows come by their ids, which are others in another organisation. */
const sorted = (text: string): string[] => text.split('\r\n').sort();

async function exportsOf(client: TestClient): Promise<Record<string, string>> {
  const found: Record<string, string> = {};
  for (const table of EXPORT_TABLE_NAMES.filter((one) => !TRAIL.includes(one)))
    found[table] = await exportOf(client, table);
  return found;
}

async function bringIn(client: TestClient, name: string, text: string): Promise<ImportClient> {
  const upload = await tryFile(client, name, text);
  expect([name, await upload.findings()]).toEqual([name, []]);
  expect([name, await upload.commit()]).toMatchObject([name, { state: 'finished' }]);
  return upload;
}

/** Status, check and reason of each circuit, as its organisation sees them. */
const standingsOf = async (client: TestClient): Promise<unknown[]> => {
  const { body } = await client.get('/circuits/standings?status=all&limit=50').expect(200);
  return (body as { items: Record<string, unknown>[] }).items.map(
    ({ machineName, circuitName, status, checkCode, reason }) => ({
      machineName,
      circuitName,
      status,
      checkCode,
      reason,
    }),
  );
};

describe('an installed base that is taken along', () => {
  const uploads: ImportClient[] = [];
  let before: Record<string, string>;

  it('reads into an empty organisation, which exports the same and proves the same', async () => {
    before = await exportsOf(stranger);
    for (const table of IMPORTABLE) {
      const text = await exportOf(engineer, table);
      expect([table, sorted(text).length]).not.toEqual([table, 2]);
      uploads.push(await bringIn(stranger, `${table}.csv`, text));
      expect([table, sorted(await exportOf(stranger, table))]).toEqual([table, sorted(text)]);
    }
    expect(await standingsOf(engineer)).toMatchObject([{ status: 'holds' }]);
    expect(await standingsOf(stranger)).toEqual(await standingsOf(engineer));
    const { body: mine } = await engineer.get(`/machines/${world.machineId}`).expect(200);
    const { body: listed } = await stranger.get('/machines').expect(200);
    const [theirs] = (listed as { items: Record<string, unknown>[] }).items;
    expect(theirs).toMatchObject({ controlBehaviour: mine.controlBehaviour, controlVoltageV: mine.controlVoltageV });
  }, 240_000);

  it('is undone file by file, and leaves every export as it was, byte for byte', async () => {
    for (const upload of [...uploads].reverse()) expect(await upload.undo()).toMatchObject({ state: 'finished' });
    expect(await exportsOf(stranger)).toEqual(before);
  }, 240_000);
});
