import { setTimeout as delay } from 'node:timers/promises';
import type { Import, ImportMapping, ImportRow, Job } from '@repo/contracts';
import { uuidv7 } from 'uuidv7';
import type { TestClient } from '../../support/api.js';

const WITHIN_MS = 60_000;

/** Waits until a job is over. */
export async function jobEnd(client: TestClient, id: string): Promise<Job> {
  const until = Date.now() + WITHIN_MS;
  for (;;) {
    const job = (await client.get(`/jobs/${id}`).expect(200)).body as Job;
    if (job.state !== 'queued' && job.state !== 'running') return job;
    if (Date.now() > until) throw new Error(`job ${job.kind} is ${job.state}, ${job.step}`);
    await delay(60);
  }
}

const finished = async (client: TestClient, id: string): Promise<Job> => {
  const job = await jobEnd(client, id);
  if (job.state !== 'finished') throw new Error(`job ${job.kind} ${job.state}: ${JSON.stringify(job.problem)}`);
  return job;
};

/** Drives one import through the API as a person would. */
export class ImportClient {
  constructor(
    readonly client: TestClient,
    readonly id: string,
  ) {}

  static async begin(client: TestClient, fileName: string): Promise<ImportClient> {
    const id = uuidv7();
    await client.post('/imports', { id, fileName }).expect(201);
    return new ImportClient(client, id);
  }

  /** Sends the file; the job that reads it, over. */
  async send(bytes: Uint8Array): Promise<Job> {
    const headers = { 'content-type': 'application/octet-stream' };
    const answer = await this.client.call('POST', `/imports/${this.id}/file`, headers, Buffer.from(bytes));
    if (answer.status !== 202) throw new Error(`${answer.status} ${answer.text}`);
    expect(answer.headers.location).toBe(`/api/v1/jobs/${(answer.body as Job).id}`);
    return jobEnd(this.client, (answer.body as Job).id);
  }

  async get(): Promise<Import> {
    return (await this.client.get(`/imports/${this.id}`).expect(200)).body as Import;
  }

  /** Changes the mapping. */
  async map(change: (mapping: ImportMapping) => void): Promise<Import> {
    const before = await this.get();
    const mapping = structuredClone(before.mapping) as ImportMapping;
    change(mapping);
    return (await this.client.patch(`/imports/${this.id}`, before.version, { mapping }).expect(200)).body as Import;
  }

  async check(): Promise<Import> {
    const answer = await this.client.post(`/imports/${this.id}/check`);
    if (answer.status !== 202) throw new Error(`${answer.status} ${answer.text}`);
    await finished(this.client, (answer.body as Job).id);
    return this.get();
  }

  async rows(outcome?: string): Promise<ImportRow[]> {
    const rows: ImportRow[] = [];
    let cursor = '';
    for (;;) {
      const query = `limit=200${outcome === undefined ? '' : `&outcome=${outcome}`}${cursor}`;
      const { body } = await this.client.get(`/imports/${this.id}/rows?${query}`).expect(200);
      const page = body as { items: ImportRow[]; nextCursor: string | null };
      rows.push(...page.items);
      if (page.nextCursor === null) return rows;
      cursor = `&cursor=${encodeURIComponent(page.nextCursor)}`;
    }
  }

  /** The findings of all rows: `C4 code`. */
  async findings(): Promise<string[]> {
    return (await this.rows('refused')).flatMap((row) =>
      row.findings.map((one) => `${one.cell ?? `row ${row.row}`} ${one.code}`),
    );
  }

  async commit(body: object = {}): Promise<Job> {
    const answer = await this.client.post(`/imports/${this.id}/commit`, body);
    if (answer.status !== 202) throw new Error(`${answer.status} ${answer.text}`);
    return jobEnd(this.client, (answer.body as Job).id);
  }

  async undo(): Promise<Job> {
    const answer = await this.client.post(`/imports/${this.id}/undo`);
    if (answer.status !== 202) throw new Error(`${answer.status} ${answer.text}`);
    return jobEnd(this.client, (answer.body as Job).id);
  }
}

/** Sends a file and tries it, as it was understood. */
export async function tryFile(
  client: TestClient,
  fileName: string,
  bytes: Uint8Array | string,
  change?: (mapping: ImportMapping) => void,
): Promise<ImportClient> {
  const upload = await ImportClient.begin(client, fileName);
  const job = await upload.send(typeof bytes === 'string' ? Buffer.from(bytes) : bytes);
  if (job.state !== 'finished') throw new Error(`not read: ${JSON.stringify(job.problem)}`);
  if (change !== undefined) await upload.map(change);
  await upload.check();
  return upload;
}
