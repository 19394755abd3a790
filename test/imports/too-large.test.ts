import { anOrganisation } from '../builders/world.js';
import { startApi, type TestApi, type TestClient } from '../support/api.js';
import { ImportClient, tryFile } from './support/import-client.js';

let api: TestApi;
let engineer: TestClient;

beforeAll(async () => {
  // So little time that a thread is not even begun in it.
  api = await startApi({ WORKER: 'inside', COMPUTE_SECONDS: '0.05' });
  engineer = await api.as((await anOrganisation(api, 'Too large')).emails.engineer);
});
afterAll(() => api.stop());

const FILE = 'Firm;Works\r\nCustomer;Site;Place;Time zone\r\nMar Test;Quay 1;Porto;Nowhere/Else\r\n';

describe('a file for which there is not enough time', () => {
  it('is told as a file that is too large, with what can be done instead, and never as inputs of a calculation', async () => {
    const tried = await tryFile(engineer, 'tried.csv', FILE);
    const list = await engineer.get(`/imports/${tried.id}/refused-rows?format=xlsx`).expect(422);
    expect(list.body).toMatchObject({ code: 'import.too-large', detail: expect.stringContaining('as CSV') as string });
    const other = await ImportClient.begin(engineer, 'moved.csv');
    await other.send(Buffer.from(FILE));
    const { version, mapping } = await other.get();
    const moved = { ...mapping, sheets: mapping?.sheets.map((sheet) => ({ ...sheet, headerRow: 1 })) };
    const answer = await engineer.patch(`/imports/${other.id}`, version, { mapping: moved }).expect(422);
    expect(answer.body).toMatchObject({
      code: 'import.too-large',
      detail: expect.stringContaining('first row') as string,
    });
  });
});
