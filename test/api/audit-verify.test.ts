import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { verifyAudit } from '@repo/launcher/audit';
import { readOptions } from '@repo/launcher/options';
import { uuidv7 } from 'uuidv7';
import { anOrganisation, asSuperuser, type Organisation } from '../builders/world.js';
import { startApi, type TestApi, type TestClient } from '../support/api.js';
import { createWorker, readEnv } from '../support/shared.js';

const ENTRIES = 8;

let api: TestApi;
let folder: string;
let kept: string;
let organisation: Organisation;
let other: Organisation;

async function until(what: string, isTrue: () => Promise<boolean>): Promise<void> {
  for (let round = 0; round < 200; round += 1) {
    if (await isTrue()) return;
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
  throw new Error(`waited in vain: ${what}`);
}

async function change(client: TestClient, name: string): Promise<void> {
  for (let number = 0; number < ENTRIES; number += 1) {
    await client.post('/customers', { id: uuidv7(), name: `${name} ${number}` }).expect(201);
  }
}

const countUnsealed = (): Promise<number> =>
  asSuperuser(api, async (client) => {
    const { rows } = await client.query(
      'SELECT (SELECT count(*) FROM audit_entries)::int - (SELECT count(*) FROM audit_seals)::int AS waiting',
    );
    return Number(rows[0].waiting);
  });

async function verify(headsFile: string | null = null): Promise<{ isWhole: boolean; said: string }> {
  const lines: string[] = [];
  const options = readOptions([], {
    DATABASE_OWNER_URL: api.db.ownerUrl,
    DATABASE_URL: api.db.appUrl,
    DATABASE_BACKUP_URL: api.db.backupUrl,
  });
  const { isWhole } = await verifyAudit(options, { headsFile }, (line) => lines.push(line));
  return { isWhole, said: lines.join('\n') };
}

/** Changes made by somebody with every right, undone afterwards: each test begins with a whole chain. */
async function tamper(sql: string, headsFile: string | null = null): Promise<{ isWhole: boolean; said: string }> {
  const run = (text: string): Promise<unknown> =>
    asSuperuser(api, (client) => client.query(`SET session_replication_role = replica; ${text}`));
  await run('CREATE TABLE kept_entries AS TABLE audit_entries; CREATE TABLE kept_seals AS TABLE audit_seals');
  await run(sql.replaceAll(':id', `'${organisation.id}'`));
  try {
    return await verify(headsFile);
  } finally {
    await run(`DELETE FROM audit_seals; DELETE FROM audit_entries; INSERT INTO audit_entries TABLE kept_entries;
               INSERT INTO audit_seals TABLE kept_seals; DROP TABLE kept_entries, kept_seals`);
  }
}

beforeAll(async () => {
  folder = fs.mkdtempSync(path.join(os.tmpdir(), 'kedge-heads-'));
  kept = path.join(folder, 'audit-heads.jsonl');
  api = await startApi();
  organisation = await anOrganisation(api, 'Audited');
  other = await anOrganisation(api, 'Beside');
  await change(await api.as(organisation.emails.engineer), 'First');
  await change(await api.as(other.emails.engineer), 'Beside');
  // Finer than a millisecond, as a database of its own accord dates.
  await asSuperuser(api, (client) =>
    client.query(
      `INSERT INTO audit_entries (organisation_id, id, at, actor_name, action, entity, entity_id, changes)
       VALUES ($1, $2, date_trunc('second', now()) + interval '0.1239996 s', 'somebody', 'change', 'customer', $2, '{"b": 1e2, "a": "\\u00e9"}')`,
      [organisation.id, uuidv7()],
    ),
  );
  await until('all is sealed', async () => (await countUnsealed()) === 0);
  // A crash had cut off the last line: it is no reason to keep no more.
  fs.writeFileSync(kept, '{"date":"2026-01-', { mode: 0o600 });
  const worker = await createWorker(
    readEnv({
      DATABASE_URL: api.db.appUrl,
      DATABASE_GATE_URL: api.db.gateUrl,
      APP_SECRET: 'a secret of at least thirty-two bytes for tests',
      LOG_LEVEL: 'silent',
      AUDIT_HEADS_DIR: folder,
    }),
  );
  await until('the heads are kept', () => Promise.resolve(fs.readFileSync(kept, 'utf8').endsWith('\n')));
  await worker.close();
});

afterAll(async () => {
  await api.stop();
  fs.rmSync(folder, { recursive: true, force: true });
});

describe('npm run audit:verify', () => {
  it('finds every hash of every organisation as it was, and the heads that were exported', async () => {
    const heads = fs.readFileSync(kept, 'utf8').trim().split('\n');
    expect(heads.map((line) => JSON.parse(line).organisationId).sort()).toEqual([organisation.id, other.id].sort());
    expect(fs.statSync(kept).mode & 0o777).toBe(0o600);
    const { isWhole, said: output } = await verify(kept);
    expect(isWhole).toBe(true);
    expect(output).toContain(`${organisation.id}: ${ENTRIES + 1} entries hold`);
    expect(output).toContain('2 chains hold; compared with 2 exported heads');
  });

  it.each([
    [
      'an entry that was altered',
      `UPDATE audit_entries SET actor_name = 'x' WHERE id = (SELECT audit_entry_id FROM audit_seals WHERE organisation_id = :id AND sequence = 5)`,
      5,
      'it is not what was sealed',
    ],
    [
      'an entry that was removed',
      'DELETE FROM audit_entries WHERE id = (SELECT audit_entry_id FROM audit_seals WHERE organisation_id = :id AND sequence = 3)',
      3,
      'its entry is gone',
    ],
    [
      'a seal that was removed',
      'DELETE FROM audit_seals WHERE organisation_id = :id AND sequence = 4',
      4,
      'number 4 is missing; 5 follows',
    ],
    [
      'a hash that was put in its place',
      `UPDATE audit_seals SET previous_hash = '\\x00' WHERE organisation_id = :id AND sequence = 2`,
      2,
      'it does not follow the one before',
    ],
    [
      'an entry that was put in behind the sealer',
      `INSERT INTO audit_entries (organisation_id, id, at, actor_name, action, entity, entity_id) VALUES (:id, gen_random_uuid(), now() - interval '1 day', 'x', 'x', 'x', gen_random_uuid())`,
      10,
      'it was never sealed',
    ],
  ])('names %s', async (_what, sql, sequence, why) => {
    const { isWhole, said: output } = await tamper(sql);
    expect(isWhole).toBe(false);
    expect(output).toContain(`${organisation.id}: BROKEN at number ${sequence}`);
    expect(output).toContain(why);
    expect(output).toContain(`${other.id}: ${ENTRIES} entries hold`);
    expect(output).toContain('not all of them hold');
  });

  it('needs the exported heads to see a chain that was cut at its end or written anew', async () => {
    const cut = `DELETE FROM audit_entries WHERE organisation_id = :id AND id IN (SELECT audit_entry_id FROM audit_seals WHERE organisation_id = :id AND sequence > 6);
                 DELETE FROM audit_seals WHERE organisation_id = :id AND sequence > 6`;
    expect((await tamper(cut)).isWhole).toBe(true);
    const { isWhole, said: output } = await tamper(cut, kept);
    expect(isWhole).toBe(false);
    expect(output).toContain(`it ends here, and stood at ${ENTRIES + 1} on`);
    const all = await tamper(
      'DELETE FROM audit_seals WHERE organisation_id = :id; DELETE FROM audit_entries WHERE organisation_id = :id',
      kept,
    );
    expect(all.said).toContain(`${organisation.id}: BROKEN at number 1`);
    const forged = fs.readFileSync(kept, 'utf8').replace(/"hash":"[0-9a-f]{4}/, '"hash":"0000');
    fs.writeFileSync(path.join(folder, 'forged.jsonl'), forged);
    expect((await verify(path.join(folder, 'forged.jsonl'))).said).toContain('the chain was written anew');
  });

  it('says what is wrong with a file of heads, and is content with a last line that was cut off', async () => {
    const strange = path.join(folder, 'strange.jsonl');
    fs.writeFileSync(strange, 'no head\n');
    await expect(verify(strange)).rejects.toThrow('line 1 is no head of an audit chain');
    fs.writeFileSync(strange, `${fs.readFileSync(kept, 'utf8')}{"date":"20`);
    expect((await verify(strange)).isWhole).toBe(true);
  });
});
