import { createHash } from 'node:crypto';
import fs from 'node:fs';
import { uuidv7 } from 'uuidv7';
import { asSuperuser } from '../builders/world.js';
import { startApi, type TestApi, type TestClient } from '../support/api.js';
import { createDemoDatabase } from '../support/database.mjs';
import { documentOf } from '../support/shared.js';

/** Nothing of the product reads or writes them yet. */
const UNUSED = ['commissioning_runs.steps', 'idempotency_keys.response_headers'];
const KEPT = new URL('../../apps/api/src/modules/sizing/kept-records/', import.meta.url);

let api: TestApi;
let engineer: TestClient;
let columns: string[];

const query = <Row extends object>(text: string, values: unknown[] = []): Promise<Row[]> =>
  asSuperuser(api, async (client) => (await client.query<Row>(text, values)).rows);

beforeAll(async () => {
  api = await startApi({}, {}, createDemoDatabase);
  const [person] = await query<{ email: string }>(
    `SELECT u.email FROM users u JOIN memberships m ON m.user_id = u.id WHERE m.role = 'engineer' ORDER BY u.email LIMIT 1`,
  );
  engineer = await api.as(person?.email);
  const found = await query<{ name: string }>(
    `SELECT c.relname || '.' || a.attname AS name FROM pg_attribute a JOIN pg_class c ON c.oid = a.attrelid
     WHERE c.relnamespace = 'public'::regnamespace AND c.relkind IN ('r', 'p') AND NOT c.relispartition
       AND a.atttypid = 'jsonb'::regtype AND NOT a.attisdropped ORDER BY 1`,
  );
  columns = found.map(({ name }) => name);
});
afterAll(() => api.stop());

/** A sizing record beside one that is there, with another text. */
async function addRecord(text: string): Promise<string> {
  const id = uuidv7();
  await query(
    `INSERT INTO sizing_records
     SELECT (jsonb_populate_record(r, jsonb_build_object('id', $1::text, 'number', (SELECT max(number) + 1 FROM sizing_records),
              'canonical_text', $2::text, 'sha256', '\\x' || $3::text))).*
     FROM sizing_records r ORDER BY number LIMIT 1`,
    [id, text, createHash('sha256').update(text, 'utf8').digest('hex')],
  );
  await query(
    `INSERT INTO sizing_currencies
     SELECT (jsonb_populate_record(s, jsonb_build_object('sizing_record_id', $1::text, 'currency', 'superseded'))).*
     FROM sizing_currencies s JOIN sizing_records r ON r.id = s.sizing_record_id ORDER BY r.number LIMIT 1`,
    [id],
  );
  return id;
}

describe('stored documents', () => {
  it('lie in no column that has no schema', () => {
    expect(columns.length).toBeGreaterThan(60);
    expect(columns.filter((name) => documentOf(name) === undefined)).toEqual(UNUSED);
  });

  it('of the demonstration are all read by their schemas', async () => {
    let read = 0;
    const isEmpty: string[] = [];
    for (const name of [...columns, 'sizing_records.canonical_text']) {
      const document = documentOf(name);
      const [table = '', column = ''] = name.split('.');
      const isOfChange = name === 'import_changes.before' ? `AND operation = 'changed'` : '';
      const rows = await query<{ stored: unknown }>(
        `SELECT ${column} AS stored FROM ${table} WHERE ${column} IS NOT NULL ${isOfChange}`,
      );
      if (rows.length === 0) isEmpty.push(name);
      for (const { stored } of rows) document?.read(typeof stored === 'string' ? JSON.parse(stored) : stored, name);
      read += rows.length;
    }
    expect(read).toBeGreaterThan(2_000);
    // What a proof stands on is there, so that it was tried.
    const tried = ['circuit_standings.summary', 'fixtures.elements', 'operations.cut', 'component_types.figures'];
    expect(isEmpty.filter((name) => [...tried, 'sizing_records.canonical_text'].includes(name))).toEqual([]);
  });

  it.each([1, 2, 3, 4])('of format %i of sizing records are shown and computed again', async (format) => {
    const text = fs.readFileSync(new URL(`format-${format}.jcs`, KEPT), 'utf8');
    const id = await addRecord(text);
    const { body: record } = await engineer.get(`/sizing-records/${id}`).expect(200);
    expect(record).toMatchObject({ canonicalText: text, document: { format: `kedge-sizing/${format}` } });
    expect(record.document).toEqual(JSON.parse(text));
    const { body: replay } = await engineer.post(`/sizing-records/${id}/replay`, {}).expect(200);
    expect(replay.recordedSha256).toBe(createHash('sha256').update(text, 'utf8').digest('hex'));
    expect(replay.differences.map(({ pointer }: { pointer: string }) => pointer)).not.toContain('/format');
  });
});

describe('a record that cannot be read', () => {
  it('says which document, and where', async () => {
    const unknown = await addRecord('{"format":"kedge-sizing/9"}');
    const cut = await addRecord('{"format":"kedge-sizing/1"');
    for (const [record, detail] of [
      [
        unknown,
        /^What is stored as document of a sizing record \(sizing record \d+\) cannot be read: \/format needs one of the formats /,
      ],
      [cut, /cannot be read: it is no JSON\.$/],
    ] as const) {
      const { body } = await engineer.get(`/sizing-records/${record}`).expect(409);
      expect(body).toMatchObject({ code: 'record.unreadable', detail: expect.stringMatching(detail) });
      await engineer.post(`/sizing-records/${record}/replay`, {}).expect(409);
    }
    await engineer.get('/sizing-records').expect(200);
  });

  it('is told of a fixture by its name, and proves nothing', async () => {
    const [fixture] = await query<{ id: string; name: string; station: string }>(
      `SELECT f.id, f.name, t.station_id AS station FROM fixtures f JOIN fixture_fittings t ON t.fixture_id = f.id AND t.valid_to IS NULL
       ORDER BY f.id LIMIT 1`,
    );
    const [circuit] = await query<{ id: string }>('SELECT id FROM circuits WHERE station_id = $1', [fixture?.station]);
    const [before] = await query<{ elements: object }>('SELECT elements FROM fixtures WHERE id = $1', [fixture?.id]);
    await query(`UPDATE fixtures SET elements = jsonb_set(elements, '{0,quantity}', '"four"') WHERE id = $1`, [
      fixture?.id,
    ]);
    const problem = `What is stored as elements of a fixture (${fixture?.name}) cannot be read: /0/quantity needs a number.`;
    for (const path of [`/fixtures/${fixture?.id}`, `/circuits/${circuit?.id}/pressure-ladder`]) {
      const { body } = await engineer.get(path).expect(409);
      expect(body).toMatchObject({ code: 'record.unreadable', detail: problem });
    }
    await query('UPDATE fixtures SET elements = $2 WHERE id = $1', [fixture?.id, JSON.stringify(before?.elements)]);
    await engineer.get(`/fixtures/${fixture?.id}`).expect(200);
  });

  it('leaves a list to its neighbours, and reads no better than unproven', async () => {
    const [circuit] = await query<{ circuit_id: string; name: string }>(
      `SELECT circuit_id, summary ->> 'circuitName' AS name FROM circuit_standings WHERE status = 'holds' ORDER BY circuit_id LIMIT 1`,
    );
    await query(`UPDATE circuit_standings SET summary = summary - 'window' WHERE circuit_id = $1`, [
      circuit?.circuit_id,
    ]);
    const { body } = await engineer.get('/circuits/standings?limit=200').expect(200);
    expect(body.items.length).toBeGreaterThan(50);
    const row = body.items.find((one: { circuitId: string }) => one.circuitId === circuit?.circuit_id);
    expect(row).toMatchObject({ circuitName: circuit?.name, status: 'unproven', checkCode: null, checks: [] });
  });

  it('is told of a job as its problem', async () => {
    const jobId = uuidv7();
    await query(
      `INSERT INTO jobs (organisation_id, id, kind, state, result, requested_by)
       SELECT organisation_id, $1, 'export', 'finished', '[]', id FROM memberships WHERE role = 'engineer' LIMIT 1`,
      [jobId],
    );
    const { body } = await engineer.get('/jobs').expect(200);
    const row = body.items.find((one: { id: string }) => one.id === jobId);
    expect(row.problem).toMatchObject({
      code: 'record.unreadable',
      detail: expect.stringContaining('result of a job'),
    });
  });
});
