import { spawn } from 'node:child_process';
import { once } from 'node:events';
import fs from 'node:fs';
import path from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';
import { gunzipSync, gzipSync } from 'node:zlib';
import { backUp } from '@repo/launcher/backup';
import { withConnection, withUrlParts } from '@repo/launcher/connection';
import { keepCountMonths } from '@repo/launcher/count-months';
import { loadDemo } from '@repo/launcher/demo';
import { startEmbeddedPostgres } from '@repo/launcher/embedded-postgres';
import { readOptions } from '@repo/launcher/options';
import { restore } from '@repo/launcher/restore';
import { findDifferences } from '../drill/same-database.mjs';
import { createDatabase, createEmptyDatabase } from '../support/database.mjs';
import { createTemporaryFolder } from './support/temporary-folder.js';

type Database = Awaited<ReturnType<typeof createDatabase>>;

const PASSPHRASE = 'seven plain words that nobody else would say';

describe('A backup', () => {
  let folder: string;
  let source: Database;
  /** for what is refused: it stays empty from one to the next */
  let emptyOne: Database;
  let file: string;
  let sealedFile: string;

  const optionsFor = (database: Database, dataDir: string): ReturnType<typeof readOptions> =>
    readOptions([], {
      DATA_DIR: dataDir,
      DATABASE_OWNER_URL: database.ownerUrl,
      DATABASE_URL: database.appUrl,
      DATABASE_GATE_URL: database.gateUrl,
      DATABASE_BACKUP_URL: database.backupUrl,
    });

  /** A data folder; the last restore's is not the next one's. */
  function makeDataDir(): string {
    const dataDir = fs.mkdtempSync(path.join(folder, 'data-'));
    fs.chmodSync(dataDir, 0o711);
    return dataDir;
  }

  async function isEmpty(database: Database): Promise<boolean> {
    const { rows } = await withConnection(database.superuserUrl, (client) =>
      client.query<{ tables: number }>(`SELECT count(*)::int AS tables FROM pg_tables WHERE schemaname = 'public'`),
    );
    return rows[0]?.tables === 0;
  }

  async function refuse(broken: string, passphrase: string | null, sentence: RegExp): Promise<void> {
    const restoring = restore(optionsFor(emptyOne, makeDataDir()), { file: broken, passphrase });
    await expect(restoring).rejects.toThrow(sentence);
    await expect(restoring).rejects.toMatchObject({ name: 'PlainError' });
    expect(await isEmpty(emptyOne)).toBe(true);
  }

  beforeAll(async () => {
    folder = createTemporaryFolder();
    source = await createDatabase();
    emptyOne = await createEmptyDatabase();
    await loadDemo({ ...source, password: 'demo-password-of-a-test' });
    // What grows after the migrations: months to come and gone, a job that waits, counts outside of every month.
    await keepCountMonths({ ownerUrl: source.ownerUrl, now: new Date('2028-02-10T00:00:00Z') });
    await withConnection(source.superuserUrl, (client) =>
      client.query(
        `INSERT INTO jobs (organisation_id, id, kind, parameters, requested_by)
         SELECT organisation_id, gen_random_uuid(), 'export', '{"a": "\\u00e9\\\\n\\t"}', id FROM memberships WHERE role = 'administrator' LIMIT 1`,
      ),
    );
    const dataDir = makeDataDir();
    fs.writeFileSync(path.join(dataDir, 'app-secret'), 'the secret that seals what gateways sign with\n');
    file = path.join(folder, 'plain.backup');
    sealedFile = path.join(folder, 'sealed.backup');
    await backUp(optionsFor(source, dataDir), { file, passphrase: null });
    await backUp(optionsFor(source, dataDir), { file: sealedFile, passphrase: PASSPHRASE });
  });

  afterAll(async () => {
    await source.drop();
    await emptyOne.drop();
    fs.rmSync(folder, { recursive: true, force: true });
  });

  it('comes back the same into an empty database whose owner is no superuser: every row, policy, grant and trigger', async () => {
    const target = await createEmptyDatabase();
    try {
      const { rows } = await restore(optionsFor(target, makeDataDir()), { file, passphrase: null });
      expect(rows).toBeGreaterThan(500);
      expect(await findDifferences(source.superuserUrl, target.superuserUrl)).toEqual([]);
      await withConnection(target.superuserUrl, (client) =>
        client.query(
          `DROP POLICY sites_staff_select ON sites; UPDATE users SET display_name = 'somebody' WHERE id = (SELECT min(id::text)::uuid FROM users)`,
        ),
      );
      const planted = await findDifferences(source.superuserUrl, target.superuserUrl);
      expect(planted.map((line) => line.split(':', 1)[0])).toEqual([
        'policies, gone',
        'rows of users, gone',
        'rows of users, new',
      ]);
      // And it is refused where something is.
      await expect(restore(optionsFor(target, makeDataDir()), { file, passphrase: null })).rejects.toThrow(
        `The database "${target.name}" is not empty`,
      );
    } finally {
      await target.drop();
    }
  });

  it('comes back the same into an empty data folder, encrypted, with the secret that opens what is sealed', async () => {
    const dataDir = makeDataDir();
    const options = readOptions([], { DATA_DIR: dataDir });
    await restore(options, { file: sealedFile, passphrase: PASSPHRASE });
    expect(fs.readdirSync(dataDir).sort()).toEqual(['app-secret', 'postgres', 'postgres-password']);
    expect(fs.readFileSync(path.join(dataDir, 'app-secret'), 'utf8')).toContain('the secret that seals');
    await expect(restore(options, { file: sealedFile, passphrase: PASSPHRASE })).rejects.toThrow(
      `There is a database in ${dataDir} already.`,
    );
    const server = await startEmbeddedPostgres({ dataDir });
    try {
      const restored = withUrlParts(server.url, { database: 'kedge' });
      expect(await findDifferences(source.superuserUrl, restored)).toEqual([]);
    } finally {
      await server.stop();
    }
  });

  it('holds the secret only when it is encrypted, and is for its owner to read', () => {
    const open = gunzipSync(fs.readFileSync(file)).toString('latin1');
    expect(open).toContain('engineer@demo.example');
    expect(open).not.toContain('the secret that seals');
    expect(fs.readFileSync(sealedFile).subarray(0, 22).toString()).toBe('age-encryption.org/v1\n');
    expect(fs.statSync(file).mode & 0o777).toBe(0o600);
    expect(fs.readdirSync(folder).filter((name) => name.endsWith('.part'))).toEqual([]);
  });

  it('is refused with a wrong pass phrase, cut off anywhere, or changed, and nothing is restored', async () => {
    await refuse(sealedFile, 'not the words', /The pass phrase does not open/);
    const [whole, sealed] = [fs.readFileSync(file), fs.readFileSync(sealedFile)];
    const broken = path.join(folder, 'broken.backup');
    for (const share of [0.02, 0.5, 0.999]) {
      fs.writeFileSync(broken, whole.subarray(0, Math.floor(whole.length * share)));
      await refuse(broken, null, /is damaged or cut off/);
    }
    fs.writeFileSync(broken, sealed.subarray(0, sealed.length - 70_000));
    await refuse(broken, PASSPHRASE, /is damaged or cut off/);
    const changed = Buffer.from(whole);
    changed[Math.floor(changed.length / 2)] = (changed[Math.floor(changed.length / 2)] ?? 0) ^ 1;
    fs.writeFileSync(broken, changed);
    await refuse(broken, null, /is damaged or cut off|is no whole backup|were refused/);
    fs.writeFileSync(broken, 'something else altogether');
    await refuse(broken, null, /is damaged or cut off/);
  });

  it('of a later format, or of migrations that are not known here, is refused with the version that reads it', async () => {
    const later = path.join(folder, 'later.backup');
    const open = gunzipSync(fs.readFileSync(file));
    const rewritten = (from: string, to: string): Buffer => {
      const at = open.indexOf(from);
      const copy = Buffer.from(open);
      copy.write(to, at);
      return gzipSync(copy);
    };
    fs.writeFileSync(later, rewritten('"format": 1', '"format": 9'));
    await refuse(later, null, /has format 9; this version reads up to 1/);
    fs.writeFileSync(later, rewritten('20261125090000_spine', '20991125090000_spine'));
    await refuse(later, null, /has migration 20991125090000_spine, which this version of the program does not know/);
  });

  it('killed half-way leaves nothing that a start would take for a database, and can be restored again', async () => {
    const dataDir = makeDataDir();
    const restoring = spawn(process.execPath, ['packages/launcher/src/restore.mjs', file], {
      cwd: path.resolve(import.meta.dirname, '../..'),
      env: { ...process.env, DATA_DIR: dataDir, DATABASE_URL: '', DATABASE_OWNER_URL: '' },
      stdio: 'ignore',
    });
    while (!fs.existsSync(path.join(dataDir, 'restoring', 'postgres', 'postmaster.pid'))) await delay(10);
    restoring.kill('SIGKILL');
    await once(restoring, 'exit');
    expect(fs.existsSync(path.join(dataDir, 'postgres'))).toBe(false);
    await restore(readOptions([], { DATA_DIR: dataDir }), { file, passphrase: null });
    expect(fs.readdirSync(dataDir).sort()).toEqual(['postgres', 'postgres-password']);
  });

  it('is not written over a file that is there, nor into a folder that is not', async () => {
    const options = optionsFor(source, makeDataDir());
    await expect(backUp(options, { file, passphrase: null })).rejects.toThrow(`There is a file ${file} already.`);
    const nowhere = path.join(folder, 'nowhere', 'a.backup');
    await expect(backUp(options, { file: nowhere, passphrase: null })).rejects.toThrow('cannot be written');
  });

  it('is refused to a login that row security holds back: its backup would be empty', async () => {
    const options = optionsFor({ ...source, backupUrl: source.gateUrl }, makeDataDir());
    const target = path.join(folder, 'empty.backup');
    await expect(backUp(options, { file: target, passphrase: null })).rejects.toMatchObject({
      message: 'The login "kedge_gate" is held back by row security: it would find nothing.',
    });
    expect(fs.existsSync(target)).toBe(false);
  });
});
