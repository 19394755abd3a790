import { createHash, randomUUID } from 'node:crypto';
import fs from 'node:fs';
import path from 'node:path';
import { assertServerVersion, withConnection } from './database/connection.mjs';
import { MIGRATIONS } from './support/paths.mjs';
import { PlainError } from './support/plain-error.mjs';

/** The advisory lock that Prisma's own migrate commands take, so the two never run at once. */
const PRISMA_LOCK = 72707369;

/** Prisma's table, column by column as Prisma creates it: its commands go on working on our databases. */
const CREATE_MIGRATIONS_TABLE = `
  CREATE TABLE IF NOT EXISTS _prisma_migrations (
    id                  VARCHAR(36) PRIMARY KEY NOT NULL,
    checksum            VARCHAR(64) NOT NULL,
    finished_at         TIMESTAMPTZ,
    migration_name      VARCHAR(255) NOT NULL,
    logs                TEXT,
    rolled_back_at      TIMESTAMPTZ,
    started_at          TIMESTAMPTZ NOT NULL DEFAULT now(),
    applied_steps_count INTEGER NOT NULL DEFAULT 0
  )`;

/** @typedef {{ name: string, sql: string, checksum: string }} Migration */

/**
 * Applies what is missing of the migrations, in order, each in a transaction of its own. Fast enough for every start,
 * and needs neither Prisma's command line nor its engine.
 * @param {object} input
 * @param {string} input.ownerUrl login that owns the schema
 * @param {string} [input.folder] of the migrations
 * @returns {Promise<string[]>} names of the migrations applied now
 * @throws {PlainError} an applied migration was edited, failed half-way under another tool, or is unknown here
 */
export function applyMigrations({ ownerUrl, folder = MIGRATIONS }) {
  return withConnection(ownerUrl, async (client) => {
    await assertServerVersion(client);
    const migrations = readMigrations(folder);
    // The lock belongs to the connection: it goes with it, also when something below throws.
    await client.query('SELECT pg_advisory_lock($1)', [PRISMA_LOCK]);
    await client.query(CREATE_MIGRATIONS_TABLE);
    const missing = findMissing(migrations, await listApplied(client));
    for (const migration of missing) await applyOne(client, migration);
    return missing.map(({ name }) => name);
  });
}

/**
 * @param {string} folder
 * @returns {Migration[]} in the order in which they apply
 */
export function readMigrations(folder) {
  if (!fs.existsSync(folder)) return [];
  return fs
    .readdirSync(folder, { withFileTypes: true })
    .filter((entry) => entry.isDirectory())
    .map((entry) => entry.name)
    .sort()
    .map((name) => {
      const file = path.join(folder, name, 'migration.sql');
      if (!fs.existsSync(file)) {
        throw new PlainError(`Migration ${name} has no migration.sql.`, `Write it, or remove ${path.dirname(file)}.`);
      }
      const sql = fs.readFileSync(file, 'utf8');
      return { name, sql, checksum: createHash('sha256').update(sql).digest('hex') };
    });
}

/** @param {import('pg').Client} client */
async function listApplied(client) {
  const { rows } = await client.query(
    'SELECT migration_name, checksum, finished_at FROM _prisma_migrations WHERE rolled_back_at IS NULL',
  );
  return rows;
}

/**
 * @param {Migration[]} migrations
 * @param {{ migration_name: string, checksum: string, finished_at: Date | null }[]} applied
 * @returns {Migration[]}
 */
function findMissing(migrations, applied) {
  const known = new Map(migrations.map((migration) => [migration.name, migration]));
  for (const row of applied) {
    const migration = known.get(row.migration_name);
    if (row.finished_at === null) {
      throw new PlainError(
        `Migration ${row.migration_name} began under another tool and never finished.`,
        'Repair the database by hand, then say so with "npx prisma migrate resolve".',
      );
    }
    if (migration === undefined) {
      throw new PlainError(
        `The database has migration ${row.migration_name}, which this version of the program does not know.`,
        'Start the newer version that wrote it, or restore a backup made by this version.',
      );
    }
    if (migration.checksum !== row.checksum) {
      throw new PlainError(
        `Migration ${row.migration_name} was edited after it had been applied to this database.`,
        'Put the file back as it was and write the change as a new migration.',
      );
    }
  }
  const done = new Set(applied.map((row) => row.migration_name));
  return migrations.filter(({ name }) => !done.has(name));
}

/**
 * The migrations of a backup, applied to an empty database in the transaction of whoever restores it.
 * @param {import('pg').Client} client
 * @param {{ name: string, checksum: string }[]} applied in the database that was backed up
 * @throws {PlainError} when one is not among this program's, or is another one by the same name
 */
export async function applyMigrationsOf(client, applied) {
  const rows = applied.map(({ name, checksum }) => ({ migration_name: name, checksum, finished_at: new Date() }));
  const missing = new Set(findMissing(readMigrations(MIGRATIONS), rows).map(({ name }) => name));
  await client.query(CREATE_MIGRATIONS_TABLE);
  for (const migration of readMigrations(MIGRATIONS).filter(({ name }) => !missing.has(name))) {
    await run(client, migration);
    // What a migration keeps until its own end is over here, too.
    await client.query('DISCARD TEMPORARY');
  }
}

/**
 * @param {import('pg').Client} client
 * @param {Migration} migration
 */
async function applyOne(client, migration) {
  await client.query('BEGIN');
  try {
    await run(client, migration);
    await client.query('COMMIT');
  } catch (error) {
    await client.query('ROLLBACK');
    throw error;
  }
}

/**
 * @param {import('pg').Client} client
 * @param {Migration} migration
 */
async function run(client, { name, sql, checksum }) {
  try {
    const { rows } = await client.query('SELECT clock_timestamp() AS started_at');
    await client.query(sql);
    await client.query(
      `INSERT INTO _prisma_migrations (id, checksum, migration_name, started_at, finished_at, applied_steps_count)
       VALUES ($1, $2, $3, $4, clock_timestamp(), 1)`,
      [randomUUID(), checksum, name, rows[0].started_at],
    );
  } catch (error) {
    throw new Error(`Migration ${name} failed: ${error instanceof Error ? error.message : error}`, { cause: error });
  }
}
