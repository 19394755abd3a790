import fs from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { withConnection } from '@repo/launcher/connection';
import { applyMigrations } from '@repo/launcher/migrate';
import { uuidv7 } from 'uuidv7';
import { createEmptyDatabase } from '../support/database.mjs';
import { createTemporaryFolder } from './support/temporary-folder.js';

const MIGRATIONS = fileURLToPath(new URL('../../prisma/migrations', import.meta.url));
const ACCOUNTS = '20261128120000_accounts';

/** A copy of the migrations that come before the one about accounts. */
function copyEarlier(): string {
  const folder = createTemporaryFolder();
  for (const name of fs.readdirSync(MIGRATIONS).filter((one) => one < ACCOUNTS)) {
    fs.cpSync(path.join(MIGRATIONS, name), path.join(folder, name), { recursive: true });
  }
  return folder;
}

describe('memberships from before accounts were their own', () => {
  it('stay where they made the account; where another organisation had set its password they wait, with a notice', async () => {
    const database = await createEmptyDatabase();
    try {
      const { ownerUrl, superuserUrl } = database;
      await applyMigrations({ ownerUrl, folder: copyEarlier() });
      const id = { a: uuidv7(), b: uuidv7(), c: uuidv7(), taken: uuidv7(), own: uuidv7(), lone: uuidv7() };
      await withConnection(superuserUrl, async (client) => {
        for (const [organisation, name] of [
          [id.a, 'A'],
          [id.b, 'B'],
          [id.c, 'C'],
        ]) {
          await client.query(`INSERT INTO organisations (id, name, margins_asked) VALUES ($1, $2, '{}')`, [
            organisation,
            name,
          ]);
        }
        for (const [user, email] of [
          [id.taken, 'taken@test.example'],
          [id.own, 'own@test.example'],
          [id.lone, 'lone@test.example'],
        ]) {
          await client.query(`INSERT INTO users (id, email, display_name, password_hash) VALUES ($1, $2, $2, 'x')`, [
            user,
            email,
          ]);
        }
        const join = (organisation: string, user: string, day: number) =>
          client.query(
            `INSERT INTO memberships (organisation_id, id, user_id, role, display_name, created_at)
             VALUES ($1, $2, $3, 'administrator', 'P', timestamptz '2026-01-01' + $4 * interval '1 day')`,
            [organisation, uuidv7(), user, day],
          );
        // B made the account of somebody whom A added later; C has nobody but such a one.
        await join(id.b, id.taken, 1);
        await join(id.a, id.own, 2);
        await join(id.a, id.taken, 3);
        await join(id.b, id.lone, 4);
        await join(id.c, id.lone, 5);
      });
      await applyMigrations({ ownerUrl, folder: MIGRATIONS });
      await withConnection(superuserUrl, async (client) => {
        const { rows } = await client.query<{ line: string }>(
          `SELECT o.name || ' ' || u.email || ' ' || CASE WHEN m.accepted_at IS NULL THEN 'waits' ELSE 'works' END AS line
           FROM memberships m JOIN organisations o ON o.id = m.organisation_id JOIN users u ON u.id = m.user_id ORDER BY 1`,
        );
        expect(rows.map(({ line }) => line)).toEqual([
          'A own@test.example works',
          'A taken@test.example waits',
          'B lone@test.example works',
          'B taken@test.example works',
          'C lone@test.example works',
        ]);
        const { rows: notices } = await client.query<{ line: string }>(
          `SELECT u.email || ' ' || n.kind || ' ' || (n.details ->> 'organisationName') AS line
           FROM notices n JOIN users u ON u.id = n.user_id ORDER BY 1`,
        );
        expect(notices.map(({ line }) => line)).toEqual([
          'lone@test.example membership-kept C',
          'own@test.example member-waits A',
          'taken@test.example membership-waits A',
        ]);
      });
    } finally {
      await database.drop();
    }
  });
});
