import { randomBytes } from 'node:crypto';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { uuidv7 } from 'uuidv7';
import { aCircuit, addPerson, anOrganisation, asSuperuser, type Organisation } from '../builders/world.js';
import { PASSWORD, startApi, TestClient, type TestApi } from '../support/api.js';
import { readMessages, type ReadMessage } from '../support/messages.js';
import { request } from '../support/shared.js';

/** The ways in which somebody who should not could get into an organisation, each with what stands against it. */

let api: TestApi;
let a: Organisation;
let b: Organisation;
let folder: string;

beforeAll(async () => {
  folder = fs.mkdtempSync(path.join(os.tmpdir(), 'kedge-messages-'));
  api = await startApi({ MESSAGES_DIR: folder, PUBLIC_URL: 'https://kedge.test.example' });
  a = await anOrganisation(api, 'A');
  b = await anOrganisation(api, 'B');
});
afterAll(async () => {
  await api.stop();
  fs.rmSync(folder, { recursive: true, force: true });
});

const NEW_PASSWORD = 'seven brave anchors';
const post = (where: string, body: object) => request(api.app.getHttpServer()).post(`/api/v1${where}`).send(body);
const signIn = (email: string, password: string, more: object = {}) => post('/sessions', { email, password, ...more });
const administratorOf = (organisation: Organisation) => api.as(organisation.emails.administrator);
const messagesTo = (email: string): Promise<ReadMessage[]> => readMessages(folder, email);

async function invite(organisation: Organisation, email: string, more: object = {}) {
  const administrator = await administratorOf(organisation);
  const { body } = await administrator
    .post('/invitations', { id: uuidv7(), email, displayName: 'Ada Invited', role: 'engineer', ...more })
    .expect(201);
  return body as { id: string; token: string; mailed: boolean; state: string };
}

const acceptAsNew = (token: string, email: string, newPassword = NEW_PASSWORD) =>
  post('/invitations/acceptance', {
    token,
    as: { account: 'new', email, displayName: 'Ada', newPassword },
  });
const acceptAsExisting = (token: string, email: string, password: string) =>
  post('/invitations/acceptance', { token, as: { account: 'existing', email, password } });

const anAddress = () => `${uuidv7()}@test.example`;

describe('an invitation', () => {
  it('makes no account that sign-in would never find behind others of the same address, and says so', async () => {
    const email = anAddress();
    // B's administrator makes accounts under an address that is not theirs.
    for (let n = 0; n < 5; n += 1) await acceptAsNew((await invite(b, email)).token, email).expect(201);
    const { token } = await invite(a, email);
    const password = 'four quiet lanterns';
    const refused = await acceptAsNew(token, email, password).expect(422);
    expect(refused.body.errors[0]).toMatchObject({ field: 'as.email', code: 'crowded' });
    const [message] = await readMessages(folder, email, 'A invites you to Kedge');
    await acceptAsNew(message?.token ?? '', email, password).expect(201);
    await signIn(email, password).expect(201);
  });

  it('is opened by its link, accepted by a new account, and good once', async () => {
    const email = anAddress();
    const { token } = await invite(a, email);
    expect((await post('/invitations/reading', { token }).expect(200)).body).toMatchObject({
      organisationName: 'A',
      email,
      role: 'engineer',
      customerName: null,
    });
    const accepted = await acceptAsNew(token, email).expect(201);
    expect(accepted.body).toMatchObject({ email, emailProven: false, membership: { role: 'engineer' } });
    expect(accepted.get('Set-Cookie')?.join()).toContain('__Host-kedge-session=');
    await acceptAsNew(token, anAddress()).expect(410);
    await post('/invitations/reading', { token }).expect(410);
    await signIn(email, NEW_PASSWORD).expect(201);
  });

  it('of a customer says whose, and gives a role of that customer alone', async () => {
    const world = await aCircuit(await api.as(a.emails.engineer), 'Inv');
    const { token } = await invite(a, anAddress(), { role: 'viewer', customerId: world.customerId });
    const { body } = await post('/invitations/reading', { token }).expect(200);
    expect(body.customerName).toEqual(expect.any(String));
    const accepted = await acceptAsNew(token, anAddress()).expect(201);
    expect(accepted.body.membership).toMatchObject({ role: 'viewer', customerId: world.customerId });
    const administrator = await administratorOf(a);
    const wrong = { id: uuidv7(), email: anAddress(), displayName: 'X', role: 'viewer' };
    await administrator.post('/invitations', wrong).expect(422);
    await administrator.post('/invitations', { ...wrong, role: 'lead', customerId: world.customerId }).expect(422);
  });

  it('ends when it is withdrawn, renewed or too old', async () => {
    const administrator = await administratorOf(a);
    const withdrawn = await invite(a, anAddress());
    await administrator.delete(`/invitations/${withdrawn.id}`).expect(204);
    await acceptAsNew(withdrawn.token, anAddress()).expect(410);
    await administrator.delete(`/invitations/${withdrawn.id}`).expect(410);
    const renewed = await invite(a, anAddress());
    const { body: again } = await administrator.post(`/invitations/${renewed.id}/renewal`).expect(201);
    await acceptAsNew(renewed.token, anAddress()).expect(410);
    await asSuperuser(api, (client) =>
      client.query(`UPDATE invitations SET expires_at = now() - interval '1 second' WHERE id = $1`, [renewed.id]),
    );
    await acceptAsNew(again.token, anAddress()).expect(410);
  });

  it('accepted twice at once gives one membership and makes one account', async () => {
    const email = anAddress();
    const { token } = await invite(a, email);
    const answers = await Promise.all(Array.from({ length: 6 }, () => acceptAsNew(token, email)));
    expect(answers.map(({ status }) => status).sort()).toEqual([201, 410, 410, 410, 410, 410]);
    const { rows } = await asSuperuser(api, (client) =>
      client.query('SELECT count(*)::int AS accounts FROM users WHERE email = $1', [email]),
    );
    expect(rows).toEqual([{ accounts: 1 }]);
  });

  it('its tokens are kept as hashes, and no kept answer holds one', async () => {
    const { token } = await invite(a, anAddress());
    const dump = await asSuperuser(api, async (client) => {
      const { rows } = await client.query<{ row: string }>(
        'SELECT i::text AS row FROM invitations i UNION ALL SELECT k::text FROM idempotency_keys k UNION ALL SELECT e::text FROM audit_entries e',
      );
      return rows.map(({ row }) => row).join('\n');
    });
    expect(dump.length).toBeGreaterThan(100);
    expect(dump).not.toContain(token);
  });

  it('a member who accepts again is told so, and the link stays good for its person', async () => {
    const { token } = await invite(a, anAddress());
    const refused = await acceptAsExisting(token, a.emails.lead ?? '', PASSWORD).expect(409);
    expect(refused.body.code).toBe('membership.exists');
    await acceptAsNew(token, anAddress()).expect(201);
  });
});

describe('an administrator of B who wants into A', () => {
  it('gets nothing by making an account of an address that A invites later', async () => {
    const victim = anAddress();
    const byB = await invite(b, victim);
    // The administrator of B opens the link that they were shown, and sets a password that they know.
    await acceptAsNew(byB.token, victim).expect(201);
    const byA = await invite(a, victim, { role: 'administrator' });
    const known = await signIn(victim, NEW_PASSWORD).expect(201);
    expect(known.body.memberships.map((one: { organisationName: string }) => one.organisationName)).toEqual(['B']);
    // The true person comes by the link of A, with an account of their own: the address that B used keeps nobody out.
    const accepted = await acceptAsNew(byA.token, victim, 'nine quiet harbours').expect(201);
    expect(accepted.body.membership).toMatchObject({ organisationName: 'A', role: 'administrator' });
    const mine = await signIn(victim, 'nine quiet harbours').expect(201);
    expect(mine.body.memberships.map((one: { organisationName: string }) => one.organisationName)).toEqual(['A']);
    const theirs = await signIn(victim, NEW_PASSWORD).expect(201);
    expect(theirs.body.memberships.map((one: { organisationName: string }) => one.organisationName)).toEqual(['B']);
  });

  it('cannot set a password: no route takes one for somebody else', async () => {
    const administrator = await administratorOf(b);
    const body = {
      id: uuidv7(),
      email: a.emails.lead ?? '',
      displayName: 'X',
      role: 'installer',
      password: 'known to the administrator of B',
    };
    expect((await administrator.post('/memberships', body)).status).toBeGreaterThanOrEqual(404);
    await administrator.post('/invitations', body).expect(422);
    await signIn(a.emails.lead ?? '', body.password).expect(401);
  });

  it('cannot learn from an invitation whether there is an account', async () => {
    const administrator = await administratorOf(b);
    const answerTo = async (email: string) => {
      const body = { id: uuidv7(), email, displayName: 'Somebody', role: 'installer' };
      const { body: answer, status } = await administrator.post('/invitations', body);
      const { id: _id, token: _token, email: _email, createdAt: _at, expiresAt: _until, ...rest } = answer;
      return { status, rest };
    };
    expect(await answerTo(a.emails.engineer ?? '')).toEqual(await answerTo(anAddress()));
  });

  it('who hands a membership of B over gets no further than B', async () => {
    // Somebody works for both, by one account.
    const both = await invite(b, a.emails.installer ?? '');
    const joined = await acceptAsExisting(both.token, a.emails.installer ?? '', PASSWORD).expect(201);
    const administrator = await administratorOf(b);
    const { body: link } = await administrator
      .post(`/memberships/${joined.body.membership.id}/invitations`, { id: uuidv7(), email: anAddress() })
      .expect(201);
    const taken = await acceptAsNew(link.token, anAddress()).expect(201);
    expect(taken.body.memberships.map((one: { organisationName: string }) => one.organisationName)).toEqual(['B']);
    const person = await signIn(a.emails.installer ?? '', PASSWORD).expect(201);
    expect(person.body.memberships.map((one: { organisationName: string }) => one.organisationName)).toEqual(['A']);
    const installer = await api.as(a.emails.installer);
    const { body: notices } = await installer.get('/me/notices').expect(200);
    expect(notices.items.map((one: { kind: string }) => one.kind)).toContain('membership-handed-over');
  });

  it('cannot write a membership or its person past the rules, not even in SQL as an administrator', async () => {
    const { rows } = await asSuperuser(api, (client) =>
      client.query<{ user_id: string }>('SELECT user_id FROM memberships WHERE id = $1', [a.memberships.lead]),
    );
    const victim = rows[0]?.user_id;
    const inTransaction = (statement: string, values: unknown[]) =>
      asSuperuser(api, async (client) => {
        await client.query('BEGIN');
        try {
          await client.query(
            `SELECT set_config('role', 'org_staff', true), set_config('app.organisation_id', $1, true), set_config('app.role', 'administrator', true)`,
            [b.id],
          );
          return await client.query(statement, values);
        } finally {
          await client.query('ROLLBACK');
        }
      });
    await expect(
      inTransaction(
        `INSERT INTO memberships (organisation_id, id, user_id, role, display_name) VALUES ($1, $2, $3, 'lead', 'X')`,
        [b.id, uuidv7(), victim],
      ),
    ).rejects.toThrow('row-level security');
    await expect(
      inTransaction('UPDATE memberships SET user_id = $1 WHERE id = $2', [victim, b.memberships.lead]),
    ).rejects.toThrow('by an invitation alone');
    await expect(
      inTransaction('UPDATE memberships SET accepted_at = NULL WHERE id = $1', [b.memberships.lead]),
    ).rejects.toThrow('by an invitation alone');
  });
});

describe('a reader of mail', () => {
  it('of an address that was never proven is sent no link to a new password', async () => {
    const email = a.emails.lead ?? '';
    expect((await post('/password-resets', { email }).expect(202)).body).toEqual({ mailed: true });
    expect((await post('/password-resets', { email: anAddress() }).expect(202)).body).toEqual({ mailed: true });
    await new Promise((resolve) => setTimeout(resolve, 200));
    expect(await messagesTo(email)).toEqual([]);
  });

  it('opens the link that was sent, and only that one proves the address', async () => {
    const [shown, sent] = [anAddress(), anAddress()];
    const byShown = await invite(a, shown);
    expect((await acceptAsNew(byShown.token, shown).expect(201)).body.emailProven).toBe(false);
    await invite(a, sent);
    const [message] = await messagesTo(sent);
    expect(message?.text).toContain('https://kedge.test.example/invitation#');
    const accepted = await acceptAsNew(message?.token ?? '', sent).expect(201);
    expect(accepted.body.emailProven).toBe(true);
    // A link that was sent proves the address that it was sent to, and no other.
    const [third, other] = [anAddress(), anAddress()];
    await invite(a, third);
    const [toThird] = await messagesTo(third);
    expect((await acceptAsNew(toThird?.token ?? '', other).expect(201)).body.emailProven).toBe(false);
  });

  it('sets a new password once; sessions end, the second factor would stay, and the person is told', async () => {
    const email = anAddress();
    await invite(a, email);
    const [invitation] = await messagesTo(email);
    const accepted = await acceptAsNew(invitation?.token ?? '', email).expect(201);
    const client = TestClient.withCookie(api.app, accepted);
    await post('/password-resets', { email }).expect(202);
    const reset = await readMessages(folder, email, 'A new password for Kedge');
    expect(reset).toHaveLength(1);
    const token = reset[0]?.token ?? '';
    await post('/password-resets/completion', { token, newPassword: 'password123' }).expect(422);
    await post('/password-resets/completion', { token, newPassword: 'three slow tides' }).expect(204);
    await post('/password-resets/completion', { token, newPassword: 'four slow tides' }).expect(410);
    await client.get('/me').expect(401);
    await signIn(email, NEW_PASSWORD).expect(401);
    const signedIn = await signIn(email, 'three slow tides').expect(201);
    const { body } = await TestClient.withCookie(api.app, signedIn).get('/me/notices').expect(200);
    expect(body.items.map((one: { kind: string }) => one.kind)).toContain('password-reset');
    expect(await readMessages(folder, email, 'About your Kedge account')).not.toHaveLength(0);
  });

  it('proves an address for nobody but themselves: a link that a stranger asked for proves nothing', async () => {
    const victim = anAddress();
    await addPerson(api, a, 'greedy', 'lead', null);
    const greedy = await api.as(a.emails.greedy);
    await greedy.post('/me/address-proofs', { email: victim }).expect(202);
    const [message] = await readMessages(folder, victim, 'Is this your address?');
    const token = message?.token ?? '';
    expect(token).toHaveLength(43);
    await post('/address-proofs/completion', { token }).expect(401);
    await (await api.as(a.emails.lead)).post('/address-proofs/completion', { token }).expect(410);
    expect((await greedy.get('/me')).body.emailProven).toBe(false);
    await greedy.post('/address-proofs/completion', { token }).expect(204);
    expect((await greedy.get('/me')).body).toMatchObject({ email: victim, emailProven: true });
    await greedy.post('/address-proofs/completion', { token }).expect(410);
  });

  it('is sent three links an hour at the most, whoever asks', async () => {
    const email = anAddress();
    await invite(a, email);
    const [invitation] = await messagesTo(email);
    await acceptAsNew(invitation?.token ?? '', email).expect(201);
    for (let round = 0; round < 6; round += 1) await post('/password-resets', { email }).expect(202);
    await new Promise((resolve) => setTimeout(resolve, 200));
    expect(await readMessages(folder, email, 'A new password for Kedge')).toHaveLength(3);
  });

  it('links begin with the address of the installation, whatever host the request names', async () => {
    const email = anAddress();
    const administrator = await administratorOf(a);
    await administrator
      .post(
        '/invitations',
        { id: uuidv7(), email, displayName: 'X', role: 'lead' },
        { 'x-forwarded-host': 'evil.example', host: 'evil.example' },
      )
      .expect(201);
    const [message] = await messagesTo(email);
    expect(message?.text).not.toContain('evil.example');
  });
});

describe('a former colleague', () => {
  it('has no session left, not even when the membership is brought back', async () => {
    await addPerson(api, a, 'former', 'lead', null);
    const former = await api.as(a.emails.former);
    const administrator = await administratorOf(a);
    const where = `/memberships/${a.memberships.former}`;
    await administrator.patch(where, 1, { archived: true }).expect(200);
    await former.get('/customers').expect(401);
    await signIn(a.emails.former ?? '', PASSWORD).expect(401);
    await administrator.patch(where, 2, { archived: false }).expect(200);
    await former.get('/customers').expect(401);
    await signIn(a.emails.former ?? '', PASSWORD).expect(201);
  });

  it('finds the links closed that they made before they left', async () => {
    await addPerson(api, a, 'leaving', 'administrator', null);
    const leaving = await api.as(a.emails.leaving);
    const { body: door } = await leaving
      .post('/invitations', { id: uuidv7(), email: anAddress(), displayName: 'Door', role: 'administrator' })
      .expect(201);
    const { body: takeOver } = await leaving
      .post(`/memberships/${a.memberships.installer}/invitations`, { id: uuidv7(), email: anAddress() })
      .expect(201);
    const administrator = await administratorOf(a);
    await administrator.patch(`/memberships/${a.memberships.leaving}`, 1, { archived: true }).expect(200);
    await acceptAsNew(door.token, anAddress()).expect(410);
    await acceptAsNew(takeOver.token, anAddress()).expect(410);
  });

  it('who lost the role of administrator cannot go on inviting by what was open', async () => {
    await addPerson(api, a, 'lesser', 'administrator', null);
    const { body: door } = await (
      await api.as(a.emails.lesser)
    )
      .post('/invitations', { id: uuidv7(), email: anAddress(), displayName: 'Door', role: 'administrator' })
      .expect(201);
    // Not by the withdrawal, but by what holds at the moment of accepting.
    await asSuperuser(api, (client) =>
      client.query(`UPDATE memberships SET role = 'lead' WHERE id = $1`, [a.memberships.lesser]),
    );
    await acceptAsNew(door.token, anAddress()).expect(410);
  });

  it('with a link that nobody gave gets nothing', async () => {
    const token = randomBytes(32).toString('base64url');
    await acceptAsNew(token, anAddress()).expect(410);
    await post('/invitations/reading', { token: 'short' }).expect(422);
  });
});

describe('administrators', () => {
  it('see and end the sessions of a member in their organisation, and no others', async () => {
    await addPerson(api, a, 'roaming', 'lead', null);
    const link = await invite(b, a.emails.roaming ?? '');
    await acceptAsExisting(link.token, a.emails.roaming ?? '', PASSWORD).expect(201);
    const inA = await api.as(a.emails.roaming);
    const administrator = await administratorOf(a);
    const where = `/memberships/${a.memberships.roaming}/sessions`;
    const { body } = await administrator.get(where).expect(200);
    expect(body.items).toHaveLength(1);
    await (await administratorOf(b)).get(where).expect(404);
    await (await administratorOf(b)).delete(`${where}/${body.items[0].id}`).expect(404);
    await administrator.delete(`${where}/${body.items[0].id}`).expect(204);
    await inA.get('/me').expect(401);
    await administrator.delete(`${where}/${body.items[0].id}`).expect(404);
  });

  it('two who take the role from each other at once: one of them keeps it', async () => {
    const c = await anOrganisation(api, 'C');
    await addPerson(api, c, 'second', 'administrator', null);
    const [first, second] = [await administratorOf(c), await api.as(c.emails.second)];
    const answers = await Promise.all([
      first.patch(`/memberships/${c.memberships.second}`, 1, { role: 'lead' }),
      second.patch(`/memberships/${c.memberships.administrator}`, 1, { role: 'lead' }),
    ]);
    const codes = answers.map(({ status, body }) => (status === 200 ? 200 : `${status} ${body.code}`));
    expect(codes).toContain(200);
    expect(codes.filter((code) => code === 200)).toHaveLength(1);
    const { rows } = await asSuperuser(api, (client) =>
      client.query(
        `SELECT count(*)::int AS administrators FROM memberships WHERE organisation_id = $1 AND role = 'administrator' AND archived_at IS NULL`,
        [c.id],
      ),
    );
    expect(rows).toEqual([{ administrators: 1 }]);
  });

  it('are asked again who they are before roles and links, once the last proof is some minutes old', async () => {
    const administrator = await administratorOf(a);
    await asSuperuser(api, (client) =>
      client.query(`UPDATE sessions SET authenticated_at = now() - interval '11 minutes'`),
    );
    const invitation = { id: uuidv7(), email: anAddress(), displayName: 'X', role: 'lead' };
    const asked = await administrator.post('/invitations', invitation).expect(403);
    expect(asked.body.code).toBe('session.proof_needed');
    const role = await administrator.patch(`/memberships/${a.memberships.lead}`, 1, { role: 'engineer' }).expect(403);
    expect(role.body.code).toBe('session.proof_needed');
    await administrator.get('/memberships').expect(200);
    await administrator.post('/me/proofs', { password: 'not it at all' }).expect(422);
    await administrator.post('/invitations', invitation).expect(403);
    await administrator.post('/me/proofs', { password: PASSWORD }).expect(204);
    await administrator.post('/invitations', invitation).expect(201);
  });
});
