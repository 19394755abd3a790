import net from 'node:net';
import type { Response, Test } from 'supertest';
import { uuidv7 } from 'uuidv7';
import { anOrganisation, asSuperuser, type Organisation } from '../builders/world.js';
import { PASSWORD, startApi, TestClient, type TestApi } from '../support/api.js';
import { CLIENT, startOpenIdProvider, type OpenIdProvider } from '../support/open-id-provider.js';
import { request } from '../support/shared.js';

const SITE = 'https://kedge.test.example';

let api: TestApi;
let a: Organisation;
let b: Organisation;
let provider: OpenIdProvider;
/** of A */
let providerId: string;

beforeAll(async () => {
  api = await startApi({ PUBLIC_URL: SITE, PRIVATE_PROVIDERS: 'allowed' });
  provider = await startOpenIdProvider([`${SITE}/provider-sign-in`]);
  [a, b] = [await anOrganisation(api, 'A'), await anOrganisation(api, 'B')];
  providerId = await setUp(a);
  await setUp(b);
});
afterAll(async () => {
  await api.stop();
  await provider.stop();
});

async function setUp(organisation: Organisation): Promise<string> {
  const administrator = await api.as(organisation.emails.administrator);
  const id = uuidv7();
  const body = { id, name: 'The firm', issuer: provider.issuer, ...CLIENT };
  const answer = await administrator.post('/identity-providers', body).expect(201);
  expect(answer.body.redirectUri).toBe(`${SITE}/provider-sign-in`);
  expect(answer.text).not.toContain(CLIENT.clientSecret);
  return id;
}

const post = (where: string, body: object, cookie = '') =>
  request(api.app.getHttpServer()).post(`/api/v1${where}`).set('cookie', cookie).send(body);
const cookiesOf = (response: Response): string =>
  (response.get('Set-Cookie') ?? []).map((cookie) => cookie.split(';', 1)[0]).join('; ');

/** Leaves, goes through the provider's pages as `subject`, and comes back in the same browser. */
async function goThrough(left: Response, subject: string) {
  const query = await provider.signIn((left.body as { url: string }).url, subject);
  return post('/provider-sign-ins/completion', { query }, cookiesOf(left));
}
const signIn = async (organisation: Organisation, subject: string) =>
  goThrough(await post('/provider-sign-ins', { organisationId: organisation.id }).expect(201), subject);

/** Somebody of A who comes by A's own sign-in. */
async function newcomer(subject: string, role = 'lead') {
  const administrator = await api.as(a.emails.administrator);
  const invitation = { id: uuidv7(), email: `${subject}@test.example`, displayName: subject, role };
  const { body } = await administrator.post('/invitations', invitation).expect(201);
  const left = await post('/invitations/provider-acceptance', { token: body.token }).expect(201);
  return { token: body.token as string, arrived: await goThrough(left, subject) };
}

const joinedBy = async (email: string | undefined, subject: string) => {
  const client = await api.as(email);
  return goThrough(await client.post('/me/provider-identity').expect(201), subject);
};

describe("an organisation's own sign-in", () => {
  it('lets in whoever accepted an invitation by it, with an account that has no password', async () => {
    const { token, arrived } = await newcomer('ada');
    expect(arrived.status).toBe(200);
    expect(arrived.body).toMatchObject({ method: 'provider', membership: { organisationName: 'A', role: 'lead' } });
    const client = TestClient.withCookie(api.app, arrived);
    await client.get('/customers').expect(200);
    await post('/invitations/reading', { token }).expect(410);
    expect((await signIn(a, 'ada')).status).toBe(200);
    await post('/sessions', { email: 'ada@provider.example', password: '' }).expect(422);
    await post('/sessions', { email: 'ada@provider.example', password: 'x' }).expect(401);
  });

  it('does not know whom the organisation does not know', async () => {
    const answer = await signIn(a, 'stranger');
    expect([answer.status, answer.body.code]).toEqual([403, 'provider.unknown']);
  });

  it('is joined to a membership by its person; a subject is one membership and stays it', async () => {
    const joined = await joinedBy(a.emails.engineer, 'eva');
    expect(joined.body).toMatchObject({ method: 'provider', membership: { id: a.memberships.engineer } });
    expect((await signIn(a, 'eva')).body.membership.role).toBe('engineer');
    const second = await joinedBy(a.emails.lead, 'eva');
    expect([second.status, second.body.code]).toEqual([401, 'provider.refused']);
    expect((await signIn(a, 'eva')).body.membership.role).toBe('engineer');
  });

  it('comes back once, and only into the browser that it left from', async () => {
    await joinedBy(a.emails.installer, 'ina');
    const left = await post('/provider-sign-ins', { organisationId: a.id }).expect(201);
    const query = await provider.signIn(left.body.url, 'ina');
    // An attacker's own answer, slipped to somebody else: their browser has no cookie, or another one.
    await post('/provider-sign-ins/completion', { query }).expect(401);
    const elsewhere = await post('/provider-sign-ins', { organisationId: a.id }).expect(201);
    await post('/provider-sign-ins/completion', { query }, cookiesOf(elsewhere)).expect(401);
    await post('/provider-sign-ins/completion', { query }, cookiesOf(left)).expect(200);
    await post('/provider-sign-ins/completion', { query }, cookiesOf(left)).expect(401);
  });

  it('refuses a code that was bent, a state of nobody, and an answer that says no', async () => {
    const left = await post('/provider-sign-ins', { organisationId: a.id }).expect(201);
    const query = new URLSearchParams(await provider.signIn(left.body.url, 'ina'));
    query.set('code', 'bent');
    await post('/provider-sign-ins/completion', { query: query.toString() }, cookiesOf(left)).expect(401);
    const again = await post('/provider-sign-ins', { organisationId: a.id }).expect(201);
    const state = new URL(again.body.url).searchParams.get('state') ?? '';
    const denied = new URLSearchParams({ error: 'access_denied', state }).toString();
    await post('/provider-sign-ins/completion', { query: denied }, cookiesOf(again)).expect(401);
    await post('/provider-sign-ins/completion', { query: 'code=1&state=x.y.z' }, cookiesOf(again)).expect(401);
  });

  it('of B says nothing in A: not by the same subject, and not by a person who belongs to both', async () => {
    const administrator = await api.as(b.emails.administrator);
    const { body: link } = await administrator
      .post('/invitations', { id: uuidv7(), email: a.emails.lead, displayName: 'Both', role: 'lead' })
      .expect(201);
    const joined = await post('/invitations/acceptance', {
      token: link.token,
      as: { account: 'existing', email: a.emails.lead, password: PASSWORD },
    }).expect(201);
    const client = TestClient.withCookie(api.app, joined);
    const inB = await goThrough(await client.post('/me/provider-identity').expect(201), 'both');
    expect(inB.body.memberships.map((one: { organisationName: string }) => one.organisationName)).toEqual(['B']);
    // The administrator of B has B's provider say whatever they like: in A that is nobody.
    expect((await signIn(a, 'both')).status).toBe(403);
    const byB = TestClient.withCookie(api.app, await signIn(b, 'both'));
    const closed: [() => Test, string][] = [
      [() => byB.post('/me/session/membership', { membershipId: a.memberships.lead }), 'switch'],
      [() => byB.post('/me/password', { currentPassword: 'x', newPassword: 'three slow tides' }), 'password'],
      [() => byB.post('/me/passkeys/options'), 'passkey'],
      [() => byB.post('/me/authenticator'), 'codes'],
      [() => byB.post('/me/address-proofs', { email: 'x@test.example' }), 'address'],
      [() => byB.post('/me/memberships', { token: 'x'.repeat(43) }), 'acceptance'],
      [() => byB.post('/me/proofs', { password: PASSWORD }), 'proof'],
      [() => byB.patch('/me', 1, { displayName: 'Somebody Else' }), 'name'],
    ];
    // Nor does it see or end what the person does elsewhere.
    const inA = await api.as(a.emails.lead);
    const { body: ownSessions } = await byB.get('/sessions').expect(200);
    expect(ownSessions.items.length).toBeGreaterThan(0);
    const { body: all } = await inA.get('/sessions').expect(200);
    const here = all.items.find((one: { isThisOne: boolean }) => one.isThisOne);
    expect(ownSessions.items.map((one: { id: string }) => one.id)).not.toContain(here.id);
    await byB.delete(`/sessions/${here.id}`).expect(404);
    await byB.delete('/me/other-sessions').expect(204);
    await inA.get('/me').expect(200);
    expect((await byB.get('/me/notices')).body.items).toEqual([]);
    for (const [ask, what] of closed) {
      const { status, body } = await ask();
      expect([what, status, body.code]).toEqual([what, 403, 'session.own_credential']);
    }
  });

  it('proves again that it is still the person, before roles and links', async () => {
    await joinedBy(a.emails.administrator, 'root');
    const arrived = await signIn(a, 'root');
    const client = TestClient.withCookie(api.app, arrived);
    // Coming in by it may have asked nothing: that is no proof yet.
    const invitation = { id: uuidv7(), email: 'x@test.example', displayName: 'X', role: 'lead' };
    expect((await client.post('/invitations', invitation).expect(403)).body.code).toBe('session.proof_needed');
    const left = await client.post('/me/proofs/provider').expect(201);
    expect(left.body.url).toContain('prompt=login');
    const proven = await goThrough(left, 'root');
    expect(proven.status).toBe(200);
    await client.post('/invitations', invitation).expect(201);
    // Proved by somebody else, it is no proof.
    await newcomer('rob');
    await asSuperuser(api, (sql) => sql.query(`UPDATE sessions SET authenticated_at = now() - interval '1 hour'`));
    const wrong = await goThrough(await client.post('/me/proofs/provider').expect(201), 'rob');
    expect(wrong.status).toBe(401);
    await client.post('/invitations', { ...invitation, id: uuidv7() }).expect(403);
  });

  it('proves nothing of a session that the account itself opened, which reaches beyond the organisation', async () => {
    await joinedBy(b.emails.engineer, 'olga');
    const ownClient = await api.as(b.emails.engineer);
    await asSuperuser(api, (sql) => sql.query(`UPDATE sessions SET authenticated_at = now() - interval '1 hour'`));
    expect((await ownClient.post('/me/passkeys/options').expect(403)).body.code).toBe('session.proof_needed');
    // Whoever has the session and runs B's sign-in has it say that it is olga.
    const answer = await goThrough(await ownClient.post('/me/proofs/provider').expect(201), 'olga');
    expect(answer.body).toMatchObject({ method: 'provider' });
    for (const path of ['/me/passkeys/options', '/me/authenticator']) {
      const { status, body } = await ownClient.post(path);
      expect([path, status, body.code]).toEqual([path, 403, 'session.proof_needed']);
    }
  });

  it('hands nothing over with a membership, and ends its sessions when it ends', async () => {
    const { arrived } = await newcomer('leo');
    const { id } = arrived.body.membership;
    const administrator = await api.as(a.emails.administrator);
    const { body: link } = await administrator
      .post(`/memberships/${id}/invitations`, { id: uuidv7(), email: 'leo@test.example' })
      .expect(201);
    const as = { account: 'new', email: 'leo@test.example', displayName: 'Leo', newPassword: 'three slow tides' };
    await post('/invitations/acceptance', { token: link.token, as }).expect(201);
    expect((await signIn(a, 'leo')).status).toBe(403);
    const mia = TestClient.withCookie(api.app, (await newcomer('mia')).arrived);
    await mia.get('/customers').expect(200);
    await administrator.patch(`/identity-providers/${providerId}`, 1, { archived: true }).expect(200);
    await mia.get('/customers').expect(401);
    await post('/provider-sign-ins', { organisationId: a.id }).expect(404);
  });

  it('at a private address, or without TLS, is not even asked where that is not allowed', async () => {
    const strict = await startApi();
    try {
      const organisation = await anOrganisation(strict, 'Strict');
      const administrator = await strict.as(organisation.emails.administrator);
      for (const issuer of [provider.issuer, 'https://127.0.0.1:1/', 'https://localhost:1/', 'http://9.9.9.9/']) {
        const body = { id: uuidv7(), name: 'X', issuer, ...CLIENT };
        const answer = await administrator.post('/identity-providers', body);
        expect([issuer, answer.status, answer.body.code]).toEqual([issuer, 424, 'provider.unusable']);
      }
    } finally {
      await strict.stop();
    }
  });

  it('that never answers keeps no other organisation from writing', async () => {
    // Four places for those that write: two at most of one person; one provider at most of an organisation is set up at once.
    const small = await startApi({ PRIVATE_PROVIDERS: 'allowed', DATABASE_POOL: '6' });
    const mute = net.createServer((socket) => socket.on('error', () => undefined));
    await new Promise<void>((resolve) => mute.listen(0, '127.0.0.1', resolve));
    try {
      const [quiet, other] = [await anOrganisation(small, 'Mute'), await anOrganisation(small, 'Other')];
      const administrator = await small.as(quiet.emails.administrator);
      const engineer = await small.as(other.emails.engineer);
      const issuer = `http://127.0.0.1:${(mute.address() as net.AddressInfo).port}/`;
      const asked = Array.from({ length: 6 }, () =>
        administrator.post('/identity-providers', { id: uuidv7(), name: 'Mute', issuer, ...CLIENT }).then((it) => it),
      );
      const first = await Promise.race(asked);
      expect([first.status, Number(first.headers['retry-after']) > 0]).toEqual([503, true]);
      const isOver = Promise.all(asked).then(() => 'over');
      const customer = { id: uuidv7(), name: 'Elsewhere' };
      const written = engineer.post('/customers', customer).then(({ status }) => status);
      expect(await Promise.race([written, isOver])).toBe(201);
      await isOver;
    } finally {
      mute.close();
      await small.stop();
    }
  }, 30_000);

  it('keeps its client secret sealed', async () => {
    const dump = await asSuperuser(api, async (client) => {
      const { rows } = await client.query<{ row: string }>(
        'SELECT p::text AS row FROM identity_providers p UNION ALL SELECT e::text FROM audit_entries e UNION ALL SELECT s::text FROM provider_sign_ins s',
      );
      return rows.map(({ row }) => row).join('\n');
    });
    expect(dump).toContain(provider.issuer);
    expect(dump).not.toContain(CLIENT.clientSecret);
    expect(dump).not.toContain(Buffer.from(CLIENT.clientSecret).toString('hex'));
  });
});
