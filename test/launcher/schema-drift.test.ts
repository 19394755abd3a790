import { withConnection } from '@repo/launcher/connection';
import { createDatabase } from '../support/database.mjs';
import { runPrisma } from './support/prisma.js';

/** Exit codes of `prisma migrate diff --exit-code`: 0 nothing differs, 2 something does. */
const SAME = 0;
const DIFFERENT = 2;

const TO_SCHEMA = ['--to-schema', 'prisma/schema', '--exit-code'];

function listDatabases(url: string): Promise<string[]> {
  return withConnection(url, async (client) => {
    const { rows } = await client.query<{ datname: string }>('SELECT datname FROM pg_database ORDER BY 1');
    return rows.map((row) => row.datname);
  });
}

describe('The schema and its migrations', () => {
  let database: Awaited<ReturnType<typeof createDatabase>>;

  beforeEach(async () => {
    database = await createDatabase();
  });

  afterEach(() => database.drop());

  it('say the same', async () => {
    const result = await runPrisma(['migrate', 'diff', '--from-config-datasource', ...TO_SCHEMA], database.ownerUrl);
    expect(result).toMatchObject({ code: SAME, output: expect.stringContaining('No difference detected') as string });
  });

  it('would be told apart if one of them changed', async () => {
    await withConnection(database.ownerUrl, (client) => client.query('ALTER TABLE sites ADD COLUMN forgotten text'));
    const result = await runPrisma(['migrate', 'diff', '--from-config-datasource', ...TO_SCHEMA], database.ownerUrl);
    expect(result).toMatchObject({ code: DIFFERENT, output: expect.stringContaining('forgotten') as string });
  });

  it('are compared in a shadow database, which leaves the main one alone and is removed', async () => {
    await withConnection(database.superuserUrl, (client) =>
      client.query('CREATE TABLE witness AS SELECT 42 AS answer'),
    );
    const before = await listDatabases(database.superuserUrl);
    const args = ['migrate', 'diff', '--from-migrations', 'prisma/migrations', ...TO_SCHEMA];
    expect(await runPrisma(args, database.superuserUrl)).toMatchObject({
      code: SAME,
      output: expect.stringContaining('No difference detected') as string,
    });
    const { rows } = await withConnection(database.superuserUrl, (client) =>
      client.query('SELECT answer FROM witness'),
    );
    expect(rows).toEqual([{ answer: 42 }]);
    const after = await listDatabases(database.superuserUrl);
    expect(after.filter((name) => name.includes('shadow'))).toEqual([]);
    expect(before.filter((name) => name.includes('shadow'))).toEqual([]);
  });
});
