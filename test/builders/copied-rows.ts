import { isDeepStrictEqual } from 'node:util';
import type { Me } from '@repo/contracts';
import pg from 'pg';
import { uuidv7 } from 'uuidv7';
import { startApi, type TestApi, type TestClient } from '../support/api.js';
import { kept } from '../support/shared.js';

/** Stands for the name of what is copied: no text of it holds these letters otherwise. */
const MARK = 'Xqzxq';
const IDS = /[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}/g;
/** Written by the API as time passes, or about requests that were never made. */
const LEFT_OUT = ['audit_seals', 'idempotency_keys', 'sessions'];

type Rows = Record<string, string[]>;
/** What the API wrote, with the ids by which the builder names it, and those of whoever built it. */
interface Origin {
  ids: object;
  rows: Rows;
  organisationId: string;
  membershipId: string;
}
/** An organisation, and its engineer who would have built it. */
interface Place {
  superuserUrl: string;
  organisationId: string;
  membershipId: string;
}
interface Site {
  organisation: { id: string; memberships: Record<string, string> };
  engineer: TestClient;
  build: (engineer: TestClient, name: string) => Promise<object>;
}

async function withClient<T>(superuserUrl: string, work: (client: pg.Client) => Promise<T>): Promise<T> {
  const client = new pg.Client({ connectionString: superuserUrl });
  await client.connect();
  try {
    return await work(client);
  } finally {
    await client.end();
  }
}

/** Every row of an organisation as JSON, by table, in the order in which they were written. */
export const rowsOf = (superuserUrl: string, organisationId: string): Promise<Rows> =>
  withClient(superuserUrl, async (client) => {
    const { rows: tables } = await client.query<{ name: string }>(
      `SELECT c.relname AS name FROM pg_class c JOIN pg_attribute a ON a.attrelid = c.oid AND a.attname = 'organisation_id'
       WHERE c.relnamespace = 'public'::regnamespace AND c.relkind IN ('r', 'p') AND NOT c.relispartition
         AND c.relname <> ALL ($1) ORDER BY 1`,
      [LEFT_OUT],
    );
    const all: Rows = {};
    for (const { name } of tables) {
      const text = `SELECT to_jsonb(t)::text AS row FROM ${name} t WHERE organisation_id = $1`;
      const { rows } = await client.query<{ row: string }>(text, [organisationId]);
      if (rows.length > 0) all[name] = rows.map(({ row }) => row);
    }
    return all;
  });

/** Where the engineer's organisation takes a copy; null where what the API writes would be another, as of a name of several words. */
export async function placeForCopy(engineer: TestClient, margins: object, name: string): Promise<Place | null> {
  const { superuserUrl } = engineer;
  if (superuserUrl === null || !/^[a-z\d]+$/i.test(name)) return null;
  const { displayName, membership } = (await engineer.get('/me').expect(200)).body as Me;
  if (displayName !== 'Test engineer' || membership.role !== 'engineer') return null;
  const { id: membershipId, organisationId } = membership;
  return withClient(superuserUrl, async (client) => {
    const text = 'SELECT margins_asked AS margins FROM organisations WHERE id = $1';
    const { rows } = await client.query<{ margins: object }>(text, [organisationId]);
    return isDeepStrictEqual(rows[0]?.margins, margins) ? { superuserUrl, organisationId, membershipId } : null;
  });
}

let recording: Promise<string> | undefined;

/** What the API writes while something is built in an organisation that holds nothing else: once for all files of a worker. */
export async function keptOrigin(begin: (api: TestApi) => Promise<Site>): Promise<string> {
  const found = kept.get(MARK);
  if (found !== undefined) return found;
  recording ??= recordOrigin(begin);
  kept.set(MARK, await recording);
  return recording;
}

async function recordOrigin(begin: (api: TestApi) => Promise<Site>): Promise<string> {
  const api = await startApi();
  try {
    const { organisation, engineer, build } = await begin(api);
    const before = await rowsOf(api.db.superuserUrl, organisation.id);
    const ids = await build(engineer, MARK);
    const rows = await rowsOf(api.db.superuserUrl, organisation.id);
    for (const [table, texts] of Object.entries(before)) {
      const there = new Set(texts);
      if (!texts.every((text) => rows[table]?.includes(text)))
        throw new Error(`${table} of what was there has changed`);
      rows[table] = (rows[table] ?? []).filter((text) => !there.has(text));
    }
    const origin: Origin = {
      ...{ ids, rows, organisationId: organisation.id },
      membershipId: organisation.memberships.engineer ?? '',
    };
    return JSON.stringify(origin);
  } finally {
    await api.stop();
  }
}

/** Writes the rows once more: with ids of their own in the same order, in the engineer's name, under another name. */
export async function writeCopy<Ids>(origin: string, place: Place, name: string): Promise<Ids> {
  const { ids, rows, organisationId, membershipId } = JSON.parse(origin) as Origin;
  const text = JSON.stringify({ ids, rows });
  const taken = new Map([
    [organisationId, place.organisationId],
    [membershipId, place.membershipId],
  ]);
  for (const id of [...new Set(text.match(IDS))].sort()) if (!taken.has(id)) taken.set(id, uuidv7());
  const copied = text
    .replaceAll(IDS, (id) => taken.get(id) ?? id)
    .replaceAll(MARK, name)
    .replaceAll(MARK.toLowerCase(), name.toLowerCase());
  const copy = JSON.parse(copied) as { ids: Ids; rows: Rows };
  await withClient(place.superuserUrl, async (client) => {
    // As it was written: no trigger works on it again.
    await client.query('BEGIN; SET LOCAL session_replication_role = replica');
    for (const [table, texts] of Object.entries(copy.rows)) {
      // Words to search by are kept once each, and the name may be one that is there already.
      const all = `[${[...new Set(texts)].join()}]`;
      await client.query(`INSERT INTO ${table} SELECT * FROM jsonb_populate_recordset(NULL::${table}, $1)`, [all]);
    }
    await client.query('COMMIT');
  });
  return copy.ids;
}
