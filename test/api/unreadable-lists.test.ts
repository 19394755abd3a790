import { allRoutes } from '@repo/contracts';
import type pg from 'pg';
import { asSuperuser } from '../builders/world.js';
import { startApi, type TestApi, type TestClient } from '../support/api.js';
import { createDemoDatabase } from '../support/database.mjs';
import { tryFile } from '../imports/support/import-client.js';
import { storedColumns } from '../support/shared.js';

let api: TestApi;
let people: TestClient[];

const query = <Row extends pg.QueryResultRow>(text: string, values: unknown[] = []): Promise<Row[]> =>
  asSuperuser(api, async (client) => (await client.query<Row>(text, values)).rows);

/** Where a row lies: its table, of a table with parts the part, and its place there. */
interface Place {
  part: string;
  place: string;
}

/** Writes over what is kept as it is, whoever asks: without the triggers that refuse it. */
const overwrite = ({ part, place }: Place, column: string, value: unknown): Promise<Place> =>
  asSuperuser(api, async (client) => {
    await client.query('SET session_replication_role = replica');
    const { rows } = await client.query<Place>(
      `UPDATE ${part} SET ${column} = $1 WHERE ctid = $2::tid RETURNING tableoid::regclass::text AS part, ctid::text AS place`,
      [typeof value === 'string' ? value : JSON.stringify(value), place],
    );
    if (rows[0] === undefined) throw new Error(`nothing lies at ${place} of ${part}`);
    return rows[0];
  });

beforeAll(async () => {
  api = await startApi({ WORKER: 'inside' }, {}, createDemoDatabase);
  const emails = await query<{ email: string }>(
    `SELECT DISTINCT ON (m.role) u.email FROM users u JOIN memberships m ON m.user_id = u.id
     WHERE m.role IN ('engineer', 'administrator') ORDER BY m.role DESC, u.email`,
  );
  people = await Promise.all(emails.map(({ email }) => api.as(email)));
  const [importer] = people;
  if (importer === undefined) throw new Error('nobody is there to import');
  const upload = await tryFile(importer, 'customers.csv', 'Customer,Trade\r\nInvented customer,gears\r\n');
  expect(await upload.commit()).toMatchObject({ state: 'finished' });
});
afterAll(() => api.stop());

/** The organisation of whoever asks is one record, and is refused as one. */
const OF_ONE = '/organisation';
/** The documents by their columns, and of the quantities as entered, which one reader reads, one in each record that has some. */
const ENTERED = [
  'circuits.return_pressure_entered',
  'fixtures.rated_pressure_entered',
  'machines.control_reaction_entered',
  'm_codes.time_out_entered',
  'operations.required_pressure_entered',
  'power_units.plant_air_low_entered',
  'setup_records.setting_entered',
  'target_settings.setting_entered',
  'wires.cross_section_entered',
];
const COLUMNS = [...storedColumns, ...ENTERED];

/** Every list that is asked for without naming a record in its address. */
const LISTS = Object.values(allRoutes)
  .filter(({ method, path }) => method === 'GET' && !path.includes('{') && !path.includes(':') && path !== OF_ONE)
  .map(({ path }) => path);

/** What stands in the row that is broken, for lists that ask whose they are. */
const ASKED = ['customerId', 'siteId', 'machineId', 'circuitId', 'fixtureId', 'stationId', 'powerUnitId'] as const;
const snake = (name: string): string => name.replaceAll(/[A-Z]/g, (letter) => `_${letter.toLowerCase()}`);
const OWN: Readonly<Record<string, string>> = {
  customers: 'customerId',
  sites: 'siteId',
  machines: 'machineId',
  circuits: 'circuitId',
  fixtures: 'fixtureId',
};

function queriesFor(table: string, row: Readonly<Record<string, unknown>>): string[] {
  const ownName = OWN[table];
  const asked = ASKED.flatMap((name) => {
    const id = name === ownName ? row.id : row[snake(name)];
    return typeof id === 'string' ? [`${name}=${id}`] : [];
  });
  return ['', ...asked.map((one) => `?${one}`)];
}

/** What the first of those who may see it is answered. */
async function answerTo(address: string): Promise<{ status: number; body: unknown }> {
  let answer: { status: number; body: unknown } = { status: 403, body: {} };
  for (const person of people) {
    if (answer.status === 403) answer = await person.get(address);
  }
  return answer;
}

/** Answers that say that a document cannot be read, and those of a server that fell over it. */
async function brokenBy(table: string, row: Readonly<Record<string, unknown>>): Promise<string[]> {
  const broken: string[] = [];
  for (const path of LISTS) {
    for (const asked of queriesFor(table, row)) {
      const { status, body } = await answerTo(`${path}${asked}`);
      const { code } = body as { code?: string };
      if (status >= 500 || code === 'record.unreadable') broken.push(`${path}${asked} ${status}`);
    }
  }
  return broken;
}

/** Of which the demonstration holds none; that a list reads them is tried where their parts of the product are. */
const NONE_THERE: readonly string[] = ['alarm_counts.measures', 'jobs.problem', 'notices.details'];

describe('one stored document that cannot be read', () => {
  const untried: string[] = [];

  it('is looked for in every column that has one, by every list', () => {
    expect(storedColumns.length).toBeGreaterThan(25);
    expect(LISTS.length).toBeGreaterThan(25);
  });

  it.each(COLUMNS.map((column): [string] => [column]))('in %s stops no list', async (column) => {
    const [table = '', name = ''] = column.split('.');
    const [row] = await query<Record<string, unknown> & Place>(
      `SELECT t.*, tableoid::regclass::text AS part, ctid::text AS place FROM ${table} t WHERE ${name} IS NOT NULL LIMIT 1`,
    );
    if (row === undefined) untried.push(column);
    const at = row === undefined ? null : await overwrite(row, name, { unreadable: ['as planted'] });
    const broken = await brokenBy(table, row ?? {});
    if (row !== undefined && at !== null) await overwrite(at, name, row[name]);
    expect(broken).toEqual([]);
  });

  it('is counted by the list that goes on without it', async () => {
    const sumsOf = async () => {
      const { body } = await answerTo('/component-types?limit=200');
      const { items, unreadable } = body as { items: unknown[]; unreadable: number };
      return { shown: items.length, unreadable };
    };
    const before = await sumsOf();
    expect(before.unreadable).toBe(0);
    const [row] = await query<{ figures: unknown } & Place>(
      `SELECT figures, 'component_types' AS part, ctid::text AS place FROM component_types WHERE archived_at IS NULL LIMIT 1`,
    );
    if (row === undefined) throw new Error('the library is empty');
    const at = await overwrite(row, 'figures', { unreadable: ['as planted'] });
    expect(await sumsOf()).toEqual({ shown: before.shown - 1, unreadable: 1 });
    await overwrite(at, 'figures', row.figures);
  });

  it('was tried wherever the demonstration holds one', () => {
    expect(untried).toEqual(NONE_THERE);
  });
});
