import { Secret, TOTP } from 'otpauth';
import { deviceOf, signInsOf } from '../builders/sign-ins.js';
import { anOrganisation, asSuperuser, type Organisation } from '../builders/world.js';
import { PASSWORD, startApi, TestClient, type TestApi } from '../support/api.js';
import { request } from '../support/shared.js';

let api: TestApi;
let organisation: Organisation;

beforeAll(async () => {
  api = await startApi({ TRUST_PROXY: '127.0.0.1' });
  organisation = await anOrganisation(api, 'Accounts');
});
afterAll(() => api.stop());

const { somebody, anAddress, signIn } = signInsOf(() => ({ api, organisation }));

const kindsOf = async (client: TestClient): Promise<string[]> => {
  const { body } = await client.get('/me/notices').expect(200);
  return (body as { items: { kind: string }[] }).items.map(({ kind }) => kind);
};

describe('the own password', () => {
  it('is changed with the old one; other sessions end, this one stays, the person is told', async () => {
    const email = await somebody();
    const [here, elsewhere] = [await api.as(email), await api.as(email)];
    const body = { currentPassword: PASSWORD, newPassword: 'three slow tides' };
    const wrong = await here.post('/me/password', { ...body, currentPassword: 'not it' }).expect(422);
    expect(wrong.body.errors[0].field).toBe('currentPassword');
    await here.post('/me/password', body).expect(204);
    await here.get('/me').expect(200);
    await elsewhere.get('/me').expect(401);
    await signIn(email, PASSWORD).expect(401);
    await signIn(email, 'three slow tides').expect(201);
    expect(await kindsOf(here)).toContain('password-changed');
  });

  it.each([
    ['too short', 'short 1'],
    ['too long', 'x1'.repeat(65)],
    ['common', 'football1'],
    ['repeated', 'abcabcabc'],
  ])('a new one that is %s is refused, with the field', async (_what, newPassword) => {
    const client = await api.as(await somebody());
    const { body } = await client.post('/me/password', { currentPassword: PASSWORD, newPassword }).expect(422);
    expect(body.errors[0].field).toBe('newPassword');
  });

  it('of eight characters, or of 128, is taken', async () => {
    const client = await api.as(await somebody());
    await client.post('/me/password', { currentPassword: PASSWORD, newPassword: 'k7#mQ2vx' }).expect(204);
    const long = 'brave anchors '.repeat(9) + '12';
    expect(long).toHaveLength(128);
    await client.post('/me/password', { currentPassword: 'k7#mQ2vx', newPassword: long }).expect(204);
  });
});

describe('sessions', () => {
  const age = (column: string, interval: string, email: string) =>
    asSuperuser(api, (client) =>
      client.query(
        `UPDATE sessions SET ${column} = now() - interval '${interval}' WHERE user_id = (SELECT id FROM users WHERE email = $1)`,
        [email],
      ),
    );

  it('end when they are not used for four hours, and after twelve in any case', async () => {
    const email = await somebody();
    const idle = await api.as(email);
    await age('last_seen_at', '239 minutes', email);
    await idle.get('/me').expect(200);
    await age('last_seen_at', '241 minutes', email);
    await idle.get('/me').expect(401);
    const old = await api.as(email);
    await age('expires_at', '1 second', email);
    await old.get('/me').expect(401);
  });

  it('that go on under another membership are no new ones: neither the proof nor the end is renewed', async () => {
    const email = await somebody();
    const client = await api.as(email);
    await age('authenticated_at', '1 hour', email);
    await asSuperuser(api, (sql) =>
      sql.query(
        `UPDATE sessions SET expires_at = now() + interval '5 minutes' WHERE user_id = (SELECT id FROM users WHERE email = $1)`,
        [email],
      ),
    );
    const { body: before } = await client.get('/me').expect(200);
    const switched = await client.post('/me/session/membership', { membershipId: before.membership.id }).expect(200);
    expect(switched.body.sessionExpiresAt).toBe(before.sessionExpiresAt);
    const after = TestClient.withCookie(api.app, switched);
    expect((await after.post('/me/authenticator').expect(403)).body.code).toBe('session.proof_needed');
    await client.get('/me').expect(401);
  });

  it('a host that is none is no fault', async () => {
    const answer = await request(api.app.getHttpServer())
      .post('/api/v1/sessions/passkey-options')
      .set('host', 'a b:x')
      .send({});
    expect(answer.status).toBeLessThan(500);
  });

  it('others are ended all at once, by oneself', async () => {
    const email = await somebody();
    const [here, elsewhere] = [await api.as(email), await api.as(email)];
    await here.delete('/me/other-sessions').expect(204);
    await here.get('/me').expect(200);
    await elsewhere.get('/me').expect(401);
  });

  it('on a device that is new are told of, but for the first', async () => {
    const email = await somebody();
    const first = await signIn(email, PASSWORD).expect(201);
    const again = await signIn(email, PASSWORD, { cookie: deviceOf(first) }).expect(201);
    expect(deviceOf(again)).toBe(deviceOf(first));
    expect(await kindsOf(TestClient.withCookie(api.app, again))).toEqual([]);
    const other = await signIn(email, PASSWORD).expect(201);
    expect(deviceOf(other)).not.toBe(deviceOf(first));
    const client = TestClient.withCookie(api.app, other);
    expect(await kindsOf(client)).toEqual(['signed-in-on-new-device']);
    expect((await client.get('/me')).body.unseenNotices).toBe(1);
    await client.post('/me/notices/seen').expect(204);
    expect((await client.get('/me')).body.unseenNotices).toBe(0);
  });

  it('a device token that was not given out here is not taken over', async () => {
    const planted = '__Host-kedge-device=planted-by-somebody';
    const response = await signIn(await somebody(), PASSWORD, { cookie: planted }).expect(201);
    expect(deviceOf(response)).not.toContain('planted');
  });
});

describe('one-time codes', () => {
  const codeOf = (secret: string, offsetS = 0): string =>
    new TOTP({ secret: Secret.fromBase32(secret) }).generate({ timestamp: Date.now() + offsetS * 1000 });

  /** Somebody with an authenticator whose codes of the present step are still unused. */
  async function withCodes() {
    const email = await somebody();
    const client = await api.as(email);
    const { body: proposed } = await client.post('/me/authenticator').expect(201);
    await client.post('/me/authenticator/confirmation', { code: '000000' }).expect(401);
    const { body: confirmed } = await client
      .post('/me/authenticator/confirmation', { code: codeOf(proposed.secret, -30) })
      .expect(201);
    return { email, client, secret: proposed.secret as string, recoveryCodes: confirmed.recoveryCodes as string[] };
  }

  it('are asked for once they are confirmed, and each is good once', async () => {
    const { email, secret } = await withCodes();
    const asked = await signIn(email, PASSWORD).expect(401);
    expect(asked.body.code).toBe('session.code_needed');
    const wrong = await signIn(email, PASSWORD, {}, { code: '123456' }).expect(401);
    expect(wrong.body.code).toBe('session.code_wrong');
    const code = codeOf(secret);
    const both = await Promise.all([signIn(email, PASSWORD, {}, { code }), signIn(email, PASSWORD, {}, { code })]);
    expect(both.map(({ status }) => status).sort()).toEqual([201, 401]);
    await signIn(email, PASSWORD, {}, { code }).expect(401);
    const signedIn = both.find(({ status }) => status === 201);
    expect(signedIn?.body.hasSecondFactor).toBe(true);
  });

  it('a wrong password with a right code tells nothing of the code', async () => {
    const { email, secret } = await withCodes();
    const { body } = await signIn(email, 'not the password', {}, { code: codeOf(secret) }).expect(401);
    expect(body.code).toBe('session.wrong');
  });

  it('recovery codes are good once each, typed in any way, and their use is told', async () => {
    const { email, client, recoveryCodes } = await withCodes();
    expect(new Set(recoveryCodes).size).toBe(10);
    const [code = ''] = recoveryCodes;
    await signIn(email, PASSWORD, {}, { code: ` ${code.toUpperCase().replaceAll('-', ' ')}` }).expect(201);
    await signIn(email, PASSWORD, {}, { code }).expect(401);
    expect(await kindsOf(client)).toEqual(expect.arrayContaining(['recovery-code-used', 'authenticator-added']));
    expect((await client.get('/me/authenticator')).body).toEqual({ isOn: true, recoveryCodesLeft: 9 });
  });

  it('guessed by somebody who has the password are slowed from wherever, and the person is told', async () => {
    const { email, client } = await withCodes();
    for (let round = 0; round < 10; round += 1) {
      await signIn(email, PASSWORD, { address: anAddress() }, { code: String(100_000 + round) }).expect(401);
    }
    await signIn(email, PASSWORD, { address: anAddress() }, { code: '222222' }).expect(429);
    expect((await kindsOf(client)).filter((kind) => kind === 'code-guessed')).toHaveLength(1);
  });

  it('secret and recovery codes are kept sealed and hashed', async () => {
    const { secret, recoveryCodes } = await withCodes();
    const dump = await asSuperuser(api, async (client) => {
      const { rows } = await client.query<{ row: string }>(
        'SELECT a::text AS row FROM authenticators a UNION ALL SELECT r::text FROM recovery_codes r',
      );
      return rows.map(({ row }) => row).join('\n');
    });
    const hex = Buffer.from(Secret.fromBase32(secret).bytes).toString('hex');
    expect(dump.length).toBeGreaterThan(500);
    for (const kept of [secret, hex, recoveryCodes[0] ?? '', Buffer.from(recoveryCodes[0] ?? '').toString('hex')]) {
      expect(dump).not.toContain(kept);
    }
  });

  it('are switched off by their person alone, who is asked again; then nothing is asked', async () => {
    const { email, client } = await withCodes();
    await asSuperuser(api, (sql) =>
      sql.query(
        `UPDATE sessions SET authenticated_at = now() - interval '1 hour' WHERE user_id = (SELECT id FROM users WHERE email = $1)`,
        [email],
      ),
    );
    expect((await client.delete('/me/authenticator').expect(403)).body.code).toBe('session.proof_needed');
    expect((await client.post('/me/proofs', { password: PASSWORD }).expect(401)).body.code).toBe('session.code_needed');
  });

  it('an organisation that demands a second factor lets nobody work without, and lets them set one up', async () => {
    const strict = await anOrganisation(api, 'Strict');
    const administrator = await api.as(strict.emails.administrator);
    const { body: policy } = await administrator.get('/sign-in-policy').expect(200);
    expect(policy).toMatchObject({ demandsSecondFactor: false });
    // Whoever demands it has it: nobody shuts themselves out.
    await administrator.patch('/sign-in-policy', policy.version, { demandsSecondFactor: true }).expect(409);
    const { body: proposed } = await administrator.post('/me/authenticator').expect(201);
    await administrator.post('/me/authenticator/confirmation', { code: codeOf(proposed.secret, -30) }).expect(201);
    await administrator.patch('/sign-in-policy', policy.version, { demandsSecondFactor: true }).expect(200);
    await administrator.get('/customers').expect(200);
    const lead = await api.as(strict.emails.lead);
    expect((await lead.get('/customers').expect(403)).body.code).toBe('session.second_factor_demanded');
    expect((await lead.get('/me').expect(200)).body).toMatchObject({
      secondFactorDemanded: true,
      hasSecondFactor: false,
    });
    const { body: mine } = await lead.post('/me/authenticator').expect(201);
    await lead.post('/me/authenticator/confirmation', { code: codeOf(mine.secret, -30) }).expect(201);
    await lead.get('/customers').expect(200);
    await lead.delete('/me/authenticator').expect(409);
  });
});
