import { deviceOf, signInsOf } from '../builders/sign-ins.js';
import { anOrganisation, type Organisation } from '../builders/world.js';
import { PASSWORD, startApi, type TestApi } from '../support/api.js';
import { request } from '../support/shared.js';

let api: TestApi;
let organisation: Organisation;

beforeAll(async () => {
  api = await startApi({ TRUST_PROXY: '127.0.0.1' });
  organisation = await anOrganisation(api, 'Guesses');
});
afterAll(() => api.stop());

const { somebody, anAddress, signIn } = signInsOf(() => ({ api, organisation }));

describe('guessing', () => {
  it('at one account from many addresses slows strangers, and keeps nobody out who knows the password', async () => {
    const email = await somebody();
    const known = deviceOf(await signIn(email, PASSWORD, { address: anAddress() }).expect(201));
    for (let round = 0; round < 32; round += 1) {
      await signIn(email, `guess ${round}`, { address: anAddress() }).expect(401);
    }
    // Somebody who knows it, on a device that is new and from an address that guessed nothing.
    await signIn(email, PASSWORD, { address: anAddress() }).expect(201);
    const began = Date.now();
    await signIn(email, PASSWORD, { address: anAddress(), cookie: known }).expect(201);
    expect(Date.now() - began).toBeLessThan(2_000);
  });

  it('many guesses at once count before they are checked: ten are, and no more', async () => {
    const email = await somebody();
    const address = anAddress();
    const answers = await Promise.all(
      Array.from({ length: 30 }, (_, index) => signIn(email, `guess ${index}`, { address })),
    );
    expect(answers.filter(({ status }) => ![401, 429, 503].includes(status))).toEqual([]);
    // Those that were refused unchecked do not count; one by one the rest of the ten can still be made, and no more.
    let checked = answers.filter(({ status }) => status === 401).length;
    expect(checked).toBeLessThanOrEqual(10);
    for (let last = 401; last === 401; checked += last === 401 ? 1 : 0) {
      last = (await signIn(email, `guess ${checked}`, { address })).status;
    }
    expect(checked).toBe(10);
    await signIn(email, PASSWORD, { address }).expect(429);
    await signIn(email, PASSWORD, { address: anAddress() }).expect(201);
  });

  it('a flood of sign-ins leaves a known device under two seconds, and the rest a plain answer', async () => {
    const email = await somebody();
    const known = deviceOf(await signIn(email, PASSWORD, { address: anAddress() }).expect(201));
    const flood = Array.from({ length: 150 }, (_, index) =>
      signIn(`nobody${index}@test.example`, 'x', { address: `198.51.100.${index}` }).then(({ status }) => status),
    );
    const began = Date.now();
    await signIn(email, PASSWORD, { address: anAddress(), cookie: known }).expect(201);
    const tookMs = Date.now() - began;
    const statuses = new Set(await Promise.all(flood));
    expect(tookMs).toBeLessThan(2_000);
    expect([...statuses].filter((status) => ![401, 503].includes(status))).toEqual([]);
  });

  it('addresses come from declared proxies only', async () => {
    const undeclared = await startApi();
    try {
      const other = await anOrganisation(undeclared, 'Undeclared');
      const guess = (index: number) =>
        request(undeclared.app.getHttpServer())
          .post('/api/v1/sessions')
          .set('x-forwarded-for', `203.0.113.${index}`)
          .send({ email: other.emails.lead, password: 'x' });
      for (let round = 0; round < 10; round += 1) await guess(round).expect(401);
      await guess(99).expect(429);
    } finally {
      await undeclared.stop();
    }
  });

  it('the own password in a stolen session is slowed as well', async () => {
    const client = await api.as(await somebody());
    for (let round = 0; round < 10; round += 1) {
      await client.post('/me/proofs', { password: `guess ${round}` }).expect(422);
    }
    await client.post('/me/proofs', { password: PASSWORD }).expect(429);
  });
});
