import ExcelJS from 'exceljs';
import { monitorEventLoopDelay } from 'node:perf_hooks';
import { anOrganisation } from '../builders/world.js';
import { startApi, type TestApi, type TestClient } from '../support/api.js';
import { aWorkbook } from './support/archive.js';
import { ImportClient, tryFile } from './support/import-client.js';

let api: TestApi;
let engineer: TestClient;

beforeAll(async () => {
  api = await startApi({ WORKER: 'inside' });
  const home = await anOrganisation(api, 'Large');
  engineer = await api.as(home.emails.engineer);
});
afterAll(() => api.stop());

const COLUMNS = 60;
/** Done in the event loop, each of these took several times as long. */
const LONGEST_HOLD_MS = 1_500;
const large = (rows: number): string => {
  const more = Array.from({ length: COLUMNS }, (_, index) => `c${index}`).join(',');
  const line = Array.from({ length: COLUMNS }, (_, index) => `1.5${index}`).join(',');
  return [`Customer,Contact e-mail,${more}`, ...Array.from({ length: rows }, () => `Large,nobody,${line}`)].join('\n');
};

/** The longest that everybody waited while this was done [ms]. */
async function longestHold(work: () => Promise<unknown>): Promise<number> {
  const delays = monitorEventLoopDelay({ resolution: 10 });
  delays.enable();
  await work();
  delays.disable();
  return delays.max / 1e6;
}

describe('a file of millions of cells', () => {
  it('is looked at beside everything else', async () => {
    const upload = await ImportClient.begin(engineer, 'large.csv');
    const held = await longestHold(() => upload.send(Buffer.from(large(40_000))));
    expect((await upload.get()).reading?.sheets[0]?.rows).toBe(40_000);
    expect(held).toBeLessThan(LONGEST_HOLD_MS);
  }, 60_000);

  it('comes back as a workbook beside everything else, or is told to be too much', async () => {
    const upload = await tryFile(engineer, 'refused.csv', large(12_000));
    expect((await upload.get()).counts?.rows.refused).toBe(12_000);
    let status = 0;
    const held = await longestHold(async () => {
      ({ status } = await engineer.get(`/imports/${upload.id}/refused-rows?format=xlsx`));
    });
    expect([200, 422]).toContain(status);
    expect(held).toBeLessThan(LONGEST_HOLD_MS);
  }, 60_000);
});

describe('a small file that names every cell there is', () => {
  it('is ended soon, rather than keeping the place of short jobs', async () => {
    const book = new ExcelJS.Workbook();
    const sheet = book.addWorksheet('Sheet');
    sheet.addRow(['Customer', 'Trade']);
    sheet.mergeCells('AAA1000000:AAB1000001');
    const stored = Buffer.from(await book.xlsx.writeBuffer({ zip: { compression: 'STORE' } } as object));
    // As long as what it stands for, so that nothing else of the archive changes.
    stored.write('A1:XFD000000001048576', stored.indexOf('AAA1000000:AAB1000001'), 'latin1');
    const upload = await ImportClient.begin(engineer, 'all.xlsx');
    const job = await upload.send(stored);
    expect(job).toMatchObject({ state: 'failed', problem: { code: 'import.unreadable' } });
    expect(['too-much-memory', 'took-too-long']).toContain(job.problem?.errors?.[0]?.code);
  }, 120_000);
});

describe('a small file of one cell of hundreds of megabytes', () => {
  // What it takes is asked for at once: in a thread, nothing was ended gently before it, and the whole service went.
  it('is read or told to be too much, and everybody else goes on', async () => {
    const text = Buffer.alloc(300_000_000, 'x');
    const cell = ['<row r="1"><c r="A1" t="inlineStr"><is><t>', '</t></is></c></row>'] as const;
    const bytes = aWorkbook([Buffer.from(cell[0]), text, Buffer.from(cell[1])]);
    expect(bytes.length).toBeLessThan(400_000);
    const upload = await ImportClient.begin(engineer, 'one cell.xlsx');
    const job = await upload.send(bytes);
    expect(job).toMatchObject({ state: 'failed', problem: { code: 'import.unreadable' } });
    // Read, it is a heading without a row.
    expect(['too-much-memory', 'nothing']).toContain(job.problem?.errors?.[0]?.code);
    expect((await upload.get()).state).toBe('unreadable');
  }, 120_000);
});
