import fs from 'node:fs';
import path from 'node:path';
import { withConnection } from '@repo/launcher/connection';
import { applyMigrations } from '@repo/launcher/migrate';
import { createDatabase, createEmptyDatabase } from '../support/database.mjs';
import { runPrisma } from './support/prisma.js';
import { createTemporaryFolder } from './support/temporary-folder.js';

interface AppliedRow {
  migration_name: string;
  checksum: string;
  applied_steps_count: number;
}

function listApplied(url: string): Promise<AppliedRow[]> {
  return withConnection(url, async (client) => {
    const columns = 'migration_name, checksum, applied_steps_count';
    const { rows } = await client.query<AppliedRow>(
      `SELECT ${columns} FROM _prisma_migrations ORDER BY migration_name`,
    );
    return rows;
  });
}

describe('The migration runner', () => {
  let folder: string;
  let database: Awaited<ReturnType<typeof createEmptyDatabase>>;

  function write(name: string, sql: string): void {
    fs.mkdirSync(path.join(folder, name), { recursive: true });
    fs.writeFileSync(path.join(folder, name, 'migration.sql'), sql);
  }

  function apply(): Promise<string[]> {
    return applyMigrations({ ownerUrl: database.ownerUrl, folder });
  }

  beforeEach(async () => {
    folder = createTemporaryFolder();
    database = await createEmptyDatabase();
  });

  afterEach(async () => {
    await database.drop();
    fs.rmSync(folder, { recursive: true, force: true });
  });

  it('applies what is missing, in the order of the names, once', async () => {
    write('20260102_more', 'ALTER TABLE things ADD COLUMN size int;');
    write('20260101_things', 'CREATE TABLE things (id int);');
    expect(await apply()).toEqual(['20260101_things', '20260102_more']);
    expect(await apply()).toEqual([]);
    write('20260103_even_more', 'ALTER TABLE things ADD COLUMN colour text;');
    expect(await apply()).toEqual(['20260103_even_more']);
  });

  it('refuses a migration that was edited after it had been applied', async () => {
    write('20260101_things', 'CREATE TABLE things (id int);');
    await apply();
    write('20260101_things', 'CREATE TABLE things (id bigint);');
    await expect(apply()).rejects.toThrow('20260101_things was edited after it had been applied');
  });

  it('refuses a database that is newer than the program', async () => {
    write('20260101_things', 'CREATE TABLE things (id int);');
    write('20260102_more', 'ALTER TABLE things ADD COLUMN size int;');
    await apply();
    fs.rmSync(path.join(folder, '20260102_more'), { recursive: true });
    await expect(apply()).rejects.toThrow('which this version of the program does not know');
  });

  it('refuses a database where another tool stopped half-way', async () => {
    write('20260101_things', 'CREATE TABLE things (id int);');
    await apply();
    await withConnection(database.ownerUrl, (client) =>
      client.query('UPDATE _prisma_migrations SET finished_at = NULL'),
    );
    await expect(apply()).rejects.toThrow('began under another tool and never finished');
  });

  it('leaves nothing behind of a migration that fails', async () => {
    write('20260101_things', 'CREATE TABLE things (id int);');
    write('20260102_broken', 'CREATE TABLE halves (id int); SELECT 1 / 0;');
    await expect(apply()).rejects.toThrow('Migration 20260102_broken failed: division by zero');
    expect((await listApplied(database.ownerUrl)).map((row) => row.migration_name)).toEqual(['20260101_things']);
    const { rows } = await withConnection(database.ownerUrl, (client) =>
      client.query(`SELECT to_regclass('halves') AS found`),
    );
    expect(rows).toEqual([{ found: null }]);
  });

  it('lets two programs start at once: each migration is applied by one of them', async () => {
    write('20260101_things', 'CREATE TABLE things (id int); SELECT pg_sleep(0.3);');
    const applied = await Promise.all([apply(), apply()]);
    expect(applied.flat()).toEqual(['20260101_things']);
  });

  it('writes the same record as Prisma’s own command, which then finds nothing to do', async () => {
    const ours = await createDatabase();
    try {
      const deployed = await runPrisma(['migrate', 'deploy'], database.ownerUrl);
      expect(deployed).toMatchObject({ code: 0 });
      const records = await listApplied(ours.ownerUrl);
      expect(records.length).toBeGreaterThan(0);
      expect(await listApplied(database.ownerUrl)).toEqual(records);
      const status = await runPrisma(['migrate', 'status'], ours.ownerUrl);
      expect(status).toMatchObject({
        code: 0,
        output: expect.stringContaining('Database schema is up to date') as string,
      });
    } finally {
      await ours.drop();
    }
  });
});
