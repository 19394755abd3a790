import { uuidv7 } from 'uuidv7';
import { anOrganisation } from '../builders/world.js';
import { startApi, type TestApi, type TestClient } from '../support/api.js';
import { CORPUS, type UglyFile } from './support/corpus.js';
import { ImportClient } from './support/import-client.js';

let api: TestApi;
let engineer: TestClient;

beforeAll(async () => {
  api = await startApi({ WORKER: 'inside' });
  const home = await anOrganisation(api, 'Corpus');
  engineer = await api.as(home.emails.engineer);
  await engineer.post('/component-types', { id: uuidv7(), kind: 'hose', name: 'Test hose' }).expect(201);
});
afterAll(() => api.stop());

/** The codes of notes: of the file, then of its sheets. */
async function notesOf(upload: ImportClient): Promise<string[]> {
  const { reading } = await upload.get();
  return [...(reading?.notes ?? []), ...(reading?.sheets.flatMap((sheet) => sheet.notes) ?? [])].map(
    (note) => note.code,
  );
}

async function assertAsExpected(file: UglyFile): Promise<void> {
  const upload = await ImportClient.begin(engineer, file.fileName);
  const read = await upload.send(await file.bytes());
  if (file.unreadable !== undefined) {
    expect(read).toMatchObject({ state: 'failed', problem: { code: 'import.unreadable' } });
    expect(read.problem?.errors?.[0]?.code).toBe(file.unreadable);
    expect((await upload.get()).state).toBe('unreadable');
    return;
  }
  expect(read).toMatchObject({ state: 'finished' });
  if (file.notes !== undefined) expect((await notesOf(upload)).sort()).toEqual([...file.notes].sort());
  if (file.change !== undefined) await upload.map(file.change);
  const { questions } = await upload.get();
  expect(questions.map((question) => question.kind)).toEqual(file.questions ?? []);
  if (questions.length > 0) {
    const refused = await engineer.post(`/imports/${upload.id}/check`).expect(422);
    expect(refused.body.code).toBe('import.question');
    return;
  }
  const { counts } = await upload.check();
  expect(await upload.findings()).toEqual(file.findings ?? []);
  const rows = counts?.rows;
  expect([rows?.created, rows?.changed, rows?.unchanged, rows?.refused]).toEqual(file.rows);
  if (file.records !== undefined) {
    const written = (await upload.rows()).flatMap((row) =>
      row.records.map((record) => `${record.entity} ${record.name}`),
    );
    expect(written).toEqual(expect.arrayContaining(file.records));
  }
}

describe('ugly files', () => {
  it('are at least thirty, each another', () => {
    expect(CORPUS.length).toBeGreaterThanOrEqual(30);
    expect(new Set(CORPUS.map((file) => file.name)).size).toBe(CORPUS.length);
  });

  it.each(CORPUS.map((file) => [file.name, file] as const))('%s', async (_name, file) => {
    await assertAsExpected(file);
  });
});
