import { monitorEventLoopDelay } from 'node:perf_hooks';
import { anOrganisation } from '../builders/world.js';
import { startApi, type TestApi, type TestClient } from '../support/api.js';
import { aWorkbook } from './support/archive.js';
import { ImportClient, jobEnd, tryFile } from './support/import-client.js';

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

describe('a large file of which the headings stand elsewhere', () => {
  it('is looked at again by a job, beside everything else, and other choices are kept', async () => {
    const wide = Array.from({ length: 290 }, (_, index) => `c${index}`).join(',');
    const line = Array.from({ length: 290 }, (_, index) => `1.5${index}`).join(',');
    const rows = Array.from({ length: 9_500 }, (_, index) => `Wide ${index},a@b.example,${line}`);
    const upload = await ImportClient.begin(engineer, 'wide.csv');
    await upload.send(
      Buffer.from([`List of,customers,${line}`, `Customer,Contact e-mail,${wide}`, ...rows].join('\n')),
    );
    const { reading } = await upload.get();
    expect(reading?.sheets[0]).toMatchObject({ headerRow: 2, rows: 9_500 });
    const moveTo = async (headerRow: number): Promise<void> => {
      const moved = await upload.map((mapping) => {
        mapping.keepTotals = true;
        for (const sheet of mapping.sheets) sheet.headerRow = headerRow;
      });
      expect(moved).toMatchObject({ state: 'reading', mapping: { keepTotals: true } });
      expect(await jobEnd(engineer, moved.jobId ?? '')).toMatchObject({ state: 'finished', kind: 'import-read' });
    };
    const held = await longestHold(() => moveTo(1));
    expect(held).toBeLessThan(LONGEST_HOLD_MS);
    expect(await upload.get()).toMatchObject({
      state: 'read',
      reading: { sheets: [{ headerRow: 1, rows: 9_501 }] },
      mapping: { keepTotals: true, sheets: [{ headerRow: 1 }] },
    });
    await moveTo(2);
    const back = await upload.get();
    expect(back).toMatchObject({ state: 'read', reading: { sheets: [{ headerRow: 2, rows: 9_500 }] } });
    expect(back.mapping?.sheets[0]?.columns.slice(0, 2).map(({ field }) => field)).toEqual([
      'customer.name',
      'customer.contactEmail',
    ]);
  }, 120_000);
});

describe('a small file that names every cell there is', () => {
  const rowOf = (n: number, ...texts: string[]): Buffer => {
    const cells = texts.map((text, at) => `<c r="${'AB'[at]}${n}" t="inlineStr"><is><t>${text}</t></is></c>`);
    return Buffer.from(`<row r="${n}">${cells.join('')}</row>`);
  };

  it.each(['A2:CV25000', 'A2:XFD1048576'])(
    'in a merged range %s, is read where it has cells, rather than keeping the place of short jobs',
    async (range) => {
      const bytes = aWorkbook([rowOf(1, 'Customer', 'Trade'), rowOf(2, 'Quay Test'), rowOf(3)], [range]);
      expect(bytes.length).toBeLessThan(6_000);
      const upload = await ImportClient.begin(engineer, 'all.xlsx');
      expect(await upload.send(bytes)).toMatchObject({ state: 'finished', result: { sheets: 1, rows: 2 } });
      const { reading } = await upload.get();
      expect(reading?.sheets[0]?.columns.map(({ samples }) => samples)).toEqual([['Quay Test'], ['Quay Test']]);
      expect(reading?.sheets[0]?.notes).toContainEqual({ code: 'merged-cells', params: { count: 1, first: range } });
    },
  );
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
