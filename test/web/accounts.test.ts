import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { Secret, TOTP } from 'otpauth';
import { PASSWORD } from '../support/api.js';
import { readMessages } from '../support/messages.js';
import { signIn, startStack, violationsOf, type Stack } from '../support/stack.js';
import { typeKeys } from './support/keys.js';

let stack: Stack;
let folder: string;
beforeAll(async () => {
  folder = fs.mkdtempSync(path.join(os.tmpdir(), 'kedge-messages-'));
  stack = await startStack({ MESSAGES_DIR: folder });
}, 180_000);
afterAll(async () => {
  await stack.stop();
  fs.rmSync(folder, { recursive: true, force: true });
});

/** What a link looks like behind the # of the page that an administrator sees. */
const LINK = /\/invitation#[A-Za-z0-9_-]{43}/;

describe('the administrator', () => {
  it('invites somebody, who makes an account by the link, key by key, and starts to work', async () => {
    const { page, context, complaints } = await stack.as('admin');
    await page.goto('/people');
    await page.getByRole('button', { name: 'Add a person' }).click();
    const form = page.getByRole('dialog');
    // An error first: what is typed after it goes on being typed, key by key.
    await form.getByRole('button', { name: 'Make the link' }).click();
    await form.getByText('E-mail is missing').first().waitFor();
    await form.getByLabel('E-mail').click();
    await typeKeys(page, 'ada.new@test.example');
    await page.keyboard.press('Tab');
    await typeKeys(page, 'Ada New');
    expect(await form.getByLabel('E-mail').inputValue()).toBe('ada.new@test.example');
    expect(await form.getByLabel('Name as others see it').inputValue()).toBe('Ada New');
    expect(await form.getByText('E-mail is missing').count()).toBe(0);
    await form.getByRole('button', { name: 'Make the link' }).click();
    await form.getByText(/A link of its own was also sent to ada.new@test.example/).waitFor();
    const shown = LINK.exec((await form.textContent()) ?? '')?.[0] ?? '';
    expect(shown).toMatch(LINK);
    expect(await violationsOf(page)).toEqual([]);
    await form.getByRole('button', { name: 'Close' }).last().click();
    await page
      .getByRole('row')
      .filter({ hasText: 'ada.new@test.example' })
      .getByText(/open until/)
      .waitFor();
    await context.close();

    const guest = await stack.as(null);
    await guest.page.goto(shown);
    await guest.page.getByRole('heading', { level: 1, name: /invites you$/ }).waitFor();
    expect(await violationsOf(guest.page)).toEqual([]);
    await guest.page.getByRole('textbox', { name: 'New password' }).click();
    await typeKeys(guest.page, 'short');
    await guest.page.keyboard.press('Enter');
    await guest.page.getByText('New password needs 8 to 128 characters').first().waitFor();
    await guest.page.getByRole('textbox', { name: 'New password' }).click();
    await guest.page.keyboard.press('ControlOrMeta+a');
    await typeKeys(guest.page, 'football1');
    await guest.page.getByRole('button', { name: 'Make the account and accept' }).click();
    await guest.page
      .getByText(/among the common ones/)
      .first()
      .waitFor();
    await guest.page.getByRole('textbox', { name: 'New password' }).click();
    await guest.page.keyboard.press('ControlOrMeta+a');
    await typeKeys(guest.page, 'three slow tides');
    await guest.page.getByRole('button', { name: 'Make the account and accept' }).click();
    await guest.page.waitForURL(/\/fleet/);
    // A link that was used leads on, not into a wall.
    await guest.page.goto(shown);
    await guest.page.getByRole('heading', { level: 1, name: 'This link is no longer good' }).waitFor();
    await guest.page.getByRole('link', { name: 'Go to the start' }).click();
    await guest.page.waitForURL(/\/fleet/);
    await guest.page.goto('/account');
    await guest.page.getByText(/Became a member of/).waitFor();
    expect(await violationsOf(guest.page)).toEqual([]);
    // Refusals that were asked for: a password, and a link that was used.
    expect([...complaints, ...guest.complaints].filter((line) => !/ 4(22|10) /.test(line))).toEqual([]);
    await guest.context.close();
  });

  it('is asked again before a role changes, and what was asked for then goes on', async () => {
    const { page, context } = await stack.as('admin');
    await page.goto('/people');
    await stack.query(`UPDATE sessions SET authenticated_at = now() - interval '1 hour'`);
    await page.getByRole('button', { name: 'Add a person' }).click();
    const form = page.getByRole('dialog').first();
    await form.getByLabel('E-mail').fill('later@test.example');
    await form.getByLabel('Name as others see it').fill('Somebody Later');
    await form.getByRole('button', { name: 'Make the link' }).click();
    const proof = page.getByRole('dialog', { name: 'Confirm that it is you' });
    await proof.getByLabel('Password').click();
    await typeKeys(page, 'not it');
    await proof.getByRole('button', { name: 'Confirm' }).click();
    await proof.getByText('Password is not right').first().waitFor();
    await proof.getByLabel('Password').click();
    await page.keyboard.press('ControlOrMeta+a');
    await typeKeys(page, PASSWORD);
    await page.keyboard.press('Enter');
    await form.getByText(/The link for Somebody Later/).waitFor();
    await context.close();
  });
});

describe('a person', () => {
  it('proves their address, forgets the password, and sets a new one by the message', async () => {
    const { page, context } = await stack.as('lead');
    await page.goto('/account');
    await page.getByRole('button', { name: 'Send a message to prove it' }).click();
    await page.getByText('Sent. Open the link in it within a day.').waitFor();
    const [proof] = await readMessages(folder, 'lead@demo.example', 'Is this your address?');
    await page.goto(`/address#${proof?.token ?? ''}`);
    await page.getByRole('button', { name: 'It is mine' }).click();
    await page.getByRole('heading', { level: 1, name: 'The address is proven' }).waitFor();
    await context.close();

    const guest = await stack.as(null);
    await guest.page.goto('/sign-in');
    await guest.page.getByRole('link', { name: 'Forgotten the password?' }).click();
    // The page before has a field of that name too.
    await guest.page.getByRole('heading', { level: 1, name: 'A new password' }).waitFor();
    await guest.page.getByLabel('E-mail').click();
    await typeKeys(guest.page, 'lead@demo.example');
    await guest.page.keyboard.press('Enter');
    await guest.page.getByText(/a link is on its way/).waitFor();
    expect(await violationsOf(guest.page)).toEqual([]);
    const [message] = await readMessages(folder, 'lead@demo.example', 'A new password for Kedge');
    await guest.page.goto(`/new-password#${message?.token ?? ''}`);
    await guest.page.getByRole('textbox', { name: 'New password' }).fill('five grey herons');
    await guest.page.getByRole('button', { name: 'Set the password' }).click();
    await guest.page.getByRole('heading', { level: 1, name: 'The password is set' }).waitFor();
    await guest.page.getByRole('link', { name: 'Sign in' }).click();
    await guest.page.getByLabel('E-mail').fill('lead@demo.example');
    await guest.page.getByLabel('Password').fill('five grey herons');
    await guest.page.getByRole('button', { name: 'Sign in' }).click();
    await guest.page.waitForURL(/\/fleet/);
    await guest.context.close();
  });

  it('switches one-time codes on, keeps the recovery codes, and signs in with a code', async () => {
    const { page, context } = await stack.as('engineer');
    await page.goto('/account');
    await page.getByRole('button', { name: 'Set one-time codes up' }).click();
    await page.getByAltText(/Picture that holds the secret/).waitFor();
    const secret = (
      (await page
        .getByText(/Or type this secret/)
        .locator('code')
        .textContent()) ?? ''
    ).replace(/\s/g, '');
    const codeOf = (offsetS: number) =>
      new TOTP({ secret: Secret.fromBase32(secret) }).generate({ timestamp: Date.now() + offsetS * 1000 });
    await page.getByLabel('The code that the app shows now').fill('12');
    await page.getByRole('button', { name: 'Switch codes on' }).click();
    await page.getByText('The code that the app shows now: six digits are needed').first().waitFor();
    await page.getByLabel('The code that the app shows now').click();
    await page.keyboard.press('ControlOrMeta+a');
    await typeKeys(page, codeOf(-30));
    await page.getByRole('button', { name: 'Switch codes on' }).click();
    await page.getByText(/Keep these recovery codes/).waitFor();
    expect(await violationsOf(page)).toEqual([]);
    await page.getByRole('button', { name: 'I have kept them' }).click();
    await page.getByText('10 recovery codes are left').waitFor();
    await context.clearCookies();
    await page.goto('/sign-in');
    await page.getByLabel('E-mail').fill('engineer@demo.example');
    await page.getByLabel('Password').fill(PASSWORD);
    await page.getByRole('button', { name: 'Sign in' }).click();
    await page.getByLabel('One-time code').waitFor();
    await typeKeys(page, codeOf(0));
    await page.keyboard.press('Enter');
    await page.waitForURL(/\/fleet/);
    await context.close();
  });

  it('types on after an error at sign-in: the focus stays where it is put', async () => {
    const { page, context } = await stack.as(null);
    await page.goto('/sign-in');
    await page.getByRole('button', { name: 'Sign in' }).click();
    await page.getByText('E-mail is missing').first().waitFor();
    await page.getByLabel('E-mail').click();
    await typeKeys(page, 'viewer@demo.example');
    await page.keyboard.press('Tab');
    await typeKeys(page, PASSWORD);
    expect(await page.getByLabel('E-mail').inputValue()).toBe('viewer@demo.example');
    await page.keyboard.press('Enter');
    await page.waitForURL(/\/portal/);
    await signIn(page, 'viewer');
    await context.close();
  });
});

describe('a passkey', () => {
  it('is made on the device, signs in without a password, and counts as two factors', async () => {
    const { context, page, complaints } = await stack.as(null);
    // A bare address has no passkeys; the name of this machine has.
    const base = stack.base.replace('127.0.0.1', 'localhost');
    const devtools = await context.newCDPSession(page);
    await devtools.send('WebAuthn.enable');
    await devtools.send('WebAuthn.addVirtualAuthenticator', {
      options: {
        protocol: 'ctap2',
        transport: 'internal',
        hasResidentKey: true,
        hasUserVerification: true,
        isUserVerified: true,
        automaticPresenceSimulation: true,
      },
    });
    await page.goto(`${base}/sign-in`);
    await page.getByLabel('E-mail').fill('installer@demo.example');
    await page.getByLabel('Password').fill(PASSWORD);
    await page.getByRole('button', { name: 'Sign in', exact: true }).click();
    await page.waitForURL(/\/fleet/);
    await page.goto(`${base}/account`);
    await page.getByRole('button', { name: 'Add a passkey' }).click();
    // What the server drew is what the browser took over.
    expect(complaints).toEqual([]);
    await page.getByText('Say where it lives').first().waitFor();
    await page.getByLabel('Where it lives').click();
    await typeKeys(page, 'Workshop tablet');
    await page.getByRole('button', { name: 'Add a passkey' }).click();
    await page.getByText('A passkey was added: Workshop tablet').waitFor();
    await page.getByRole('button', { name: 'Sign out', exact: true }).click();
    await page.waitForURL(/\/sign-in/);
    await page.getByRole('button', { name: 'Sign in with a passkey' }).click();
    await page.waitForURL(/\/fleet/);
    const me = await page.request.get(`${base}/api/v1/me`);
    expect(await me.json()).toMatchObject({ method: 'passkey', hasSecondFactor: true });
    // Asked again, the passkey answers as well.
    await stack.query(`UPDATE sessions SET authenticated_at = now() - interval '1 hour'`);
    await page.goto(`${base}/account`);
    await page.getByRole('button', { name: 'Take Workshop tablet away' }).click();
    await page.getByRole('button', { name: 'Confirm with a passkey' }).click();
    await page.getByText('A passkey was removed: Workshop tablet').waitFor();
    await context.close();
  });
});

describe('a key of a program', () => {
  it('is made, shown once, renewed and ended', async () => {
    const { page, context } = await stack.as('admin');
    await page.goto('/api-keys');
    await page.getByRole('heading', { level: 1, name: '0 programs have a key' }).waitFor();
    await page.getByRole('button', { name: 'Add a key' }).click();
    const form = page.getByRole('dialog');
    await form.getByLabel('Program').click();
    await typeKeys(page, 'Planning');
    await form.getByRole('button', { name: 'Make the key' }).click();
    await form.getByText('What it may use: choose at least one').first().waitFor();
    await form.getByRole('checkbox', { name: 'machines' }).check();
    await form.getByRole('button', { name: 'Make the key' }).click();
    const secret = (await form.locator('code').textContent()) ?? '';
    expect(secret).toMatch(/^kedge_key_[A-Za-z0-9_-]{43}$/);
    await form.getByRole('button', { name: 'Close' }).last().click();
    await page.getByText(/Service lead: reads machines/).waitFor();
    const answer = await context.request.get('/api/v1/machines', { headers: { authorization: `Bearer ${secret}` } });
    expect(answer.status()).toBe(200);
    expect(await violationsOf(page)).toEqual([]);
    await page.getByRole('button', { name: 'New secret for Planning' }).click();
    await page.getByRole('dialog').getByRole('button', { name: 'Close' }).last().click();
    await page.getByText(/the secret before until/).waitFor();
    await page.getByRole('button', { name: 'End Planning' }).click();
    await page.getByRole('heading', { level: 1, name: '0 programs have a key' }).waitFor();
    await context.close();
  });
});

describe('where the organisation demands a second factor', () => {
  it('nothing is seen before it is set up, and its recovery codes stay until they are kept', async () => {
    const { page, context } = await stack.as(null);
    await stack.query(`INSERT INTO sign_in_policies (organisation_id, demands_second_factor) SELECT id, true FROM organisations
      ON CONFLICT (organisation_id) DO UPDATE SET demands_second_factor = true`);
    await page.goto('/sign-in');
    await page.getByLabel('E-mail').fill('installer@demo.example');
    await page.getByLabel('Password').fill(PASSWORD);
    await page.getByRole('button', { name: 'Sign in' }).click();
    await page.getByRole('heading', { level: 1, name: /asks for a second factor/ }).waitFor();
    await page.getByRole('button', { name: 'Set one-time codes up' }).click();
    const shown = await page
      .getByText(/Or type this secret/)
      .locator('code')
      .textContent();
    const totp = new TOTP({ secret: Secret.fromBase32((shown ?? '').replace(/\s/g, '')) });
    await page.getByLabel('The code that the app shows now').fill(totp.generate());
    await page.getByRole('button', { name: 'Switch codes on' }).click();
    await page.getByText(/Keep these recovery codes/).waitFor();
    await page.waitForLoadState('networkidle');
    await page.getByRole('button', { name: 'I have kept them' }).click();
    await page.getByRole('heading', { level: 1, name: /circuits/ }).waitFor();
    await stack.query('UPDATE sign_in_policies SET demands_second_factor = false');
    await context.close();
  });
});
