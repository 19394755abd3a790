import {
  columnsOfEntity,
  EXPORT_TABLE_NAMES,
  EXPORT_TABLES,
  fieldsOfEntity,
  IMPORT_ENTITIES,
  SAMPLE_ROWS,
  toSampleRow,
  type ImportEntity,
} from '@repo/contracts';
import { anOrganisation } from '../builders/world.js';
import { startApi, type TestApi, type TestClient } from '../support/api.js';
import { tryFile, type ImportClient } from './support/import-client.js';

let api: TestApi;
let engineer: TestClient;

beforeAll(async () => {
  api = await startApi({ WORKER: 'inside' });
  engineer = await api.as((await anOrganisation(api, 'Samples')).emails.engineer);
});
afterAll(() => api.stop());

const quoted = (cell: string): string => `"${cell.replaceAll('"', '""')}"`;
const sampleFile = (entity: ImportEntity): string => {
  const columns = columnsOfEntity(entity);
  const lines = [columns.map(({ header }) => header), ...SAMPLE_ROWS.map((row) => toSampleRow(columns, row))];
  return `${lines.map((cells) => cells.map(quoted).join(',')).join('\r\n')}\r\n`;
};
const tableOf = (entity: ImportEntity): string =>
  EXPORT_TABLE_NAMES.find((one) => 'entity' in EXPORT_TABLES[one] && EXPORT_TABLES[one].entity === entity) ?? '';
const exportsNow = async (): Promise<Record<string, string>> => {
  const found: Record<string, string> = {};
  for (const entity of IMPORT_ENTITIES) {
    found[entity] = (await engineer.get(`/exports/${tableOf(entity)}?format=csv`).expect(200)).text;
  }
  return found;
};

/** Left empty on purpose: figures of other kinds of component. */
const isAlwaysFilled = (entity: ImportEntity): boolean => entity !== 'component-type';

describe('the sample rows of each importable kind', () => {
  const uploads: ImportClient[] = [];
  let before: Record<string, string>;

  it.each(IMPORT_ENTITIES.map((entity): [ImportEntity] => [entity]))('fill every column of a %s', (entity) => {
    const columns = columnsOfEntity(entity);
    for (const row of SAMPLE_ROWS) {
      const empty = columns.filter((_column, index) => toSampleRow(columns, row)[index] === '').map(({ key }) => key);
      if (isAlwaysFilled(entity)) expect(empty).toEqual([]);
      else expect(empty).not.toContain('component-type.ratedPressure');
    }
  });

  it('are taken in without a remark, show each value in the trial run, and go out and in again as they are', async () => {
    before = await exportsNow();
    for (const entity of IMPORT_ENTITIES) {
      const upload = await tryFile(engineer, `${entity}.csv`, sampleFile(entity));
      expect([entity, await upload.findings()]).toEqual([entity, []]);
      const [first] = await upload.rows();
      const shown = new Set(first?.records.flatMap(({ changes }) => changes.map(({ field }) => field)));
      const columns = columnsOfEntity(entity);
      const written = fieldsOfEntity(entity).filter(
        ({ key }) => toSampleRow(columns, 0)[columns.findIndex((one) => one.key === key)] !== '',
      );
      // Said once for its row, it is shown beside each figure.
      const unseen = written.filter(({ key }) => !shown.has(key) && key !== 'component-type.figuresSource');
      expect([entity, unseen.map(({ key }) => key)]).toEqual([entity, []]);
      expect([entity, await upload.commit()]).toMatchObject([entity, { state: 'finished' }]);
      uploads.push(upload);
    }
    const now = await exportsNow();
    for (const entity of IMPORT_ENTITIES) {
      const again = await tryFile(engineer, `${entity}.csv`, now[entity] ?? '');
      const { counts } = await again.get();
      expect([entity, counts?.rows.unchanged]).not.toEqual([entity, 0]);
      expect([entity, counts?.rows]).toMatchObject([entity, { created: 0, changed: 0, refused: 0 }]);
    }
  }, 300_000);

  it('are undone kind by kind, and leave every export as it was', async () => {
    for (const upload of [...uploads].reverse()) expect(await upload.undo()).toMatchObject({ state: 'finished' });
    expect(await exportsNow()).toEqual(before);
  }, 300_000);
});
