import { Opening, ScopedClient } from '@repo/api/scoped-client';
import { createDatabase } from '../support/database.mjs';

const ORGANISATION = '0198a000-0000-7000-8000-000000000001';
const OTHER = '0198a000-0000-7000-8000-000000000002';

let db: Awaited<ReturnType<typeof createDatabase>>;
let client: ScopedClient;

const openingOf = (organisationId: string, role = 'org_staff'): Opening =>
  new Opening({ role, 'app.organisation_id': organisationId });
const begin = (opening: Opening): Promise<unknown> => opening.run(() => client.query('BEGIN'));
const WHO = `SELECT current_user AS role, current_setting('app.organisation_id', true) AS organisation`;

beforeAll(async () => {
  db = await createDatabase();
  client = new ScopedClient({ connectionString: db.appUrl, pipeline: true });
  await client.connect();
});
afterAll(async () => {
  await client.end();
  await db.drop();
});

describe('a connection of requests', () => {
  it('begins nothing in nobody’s name', async () => {
    await expect(client.query('BEGIN')).rejects.toThrow('in the name of somebody');
    const { rows } = await client.query(WHO);
    expect(rows[0].role).not.toBe('org_staff');
  });

  it('begins in somebody’s name without waiting for an answer, and forgets the name at the end', async () => {
    let heard = 0;
    const { stream } = client.connection;
    const hear = (): number => (heard += 1);
    stream.on('data', hear);
    const opening = openingOf(ORGANISATION);
    await begin(opening);
    expect(heard).toBe(0);
    expect((await client.query(WHO)).rows).toEqual([{ role: 'org_staff', organisation: ORGANISATION }]);
    expect(await opening.rows(WHO, [])).toEqual([{ role: 'org_staff', organisation: ORGANISATION }]);
    expect(heard).toBeGreaterThan(0);
    stream.off('data', hear);
    await client.query('COMMIT');
    const { rows } = await client.query(WHO);
    expect([rows[0].role === 'org_staff', rows[0].organisation]).toEqual([false, '']);
  });

  it('says why it did not begin, does nothing that came behind, and begins again', async () => {
    await begin(openingOf(ORGANISATION, 'nobody_of_this_name'));
    await expect(client.query(WHO)).rejects.toThrow('nobody_of_this_name');
    await expect(client.query(WHO)).rejects.toThrow('transaction is aborted');
    await client.query('ROLLBACK');
    await begin(openingOf(OTHER));
    expect((await client.query(WHO)).rows).toEqual([{ role: 'org_staff', organisation: OTHER }]);
    await client.query('ROLLBACK');
  });

  it.each(['COMMIT', 'ROLLBACK'])('lets nothing more in after %s, though another holds the connection', async (end) => {
    const [first, second] = [openingOf(ORGANISATION), openingOf(OTHER)];
    await begin(first);
    await first.rows(WHO, []);
    await client.query(end);
    await begin(second);
    expect(await second.rows(WHO, [])).toEqual([{ role: 'org_staff', organisation: OTHER }]);
    await expect(first.rows(WHO, [])).rejects.toThrow('not open');
    await client.query('ROLLBACK');
  });

  it('takes a name for what it is, quotes and all', async () => {
    const name = `'); SELECT set_config('role', 'none', true); --\\`;
    const opening = new Opening({ role: 'org_staff', 'app.role': name });
    await begin(opening);
    expect(await opening.rows(`SELECT current_user AS role, current_setting('app.role') AS name`, [])).toEqual([
      { role: 'org_staff', name },
    ]);
    await client.query('ROLLBACK');
  });
});
