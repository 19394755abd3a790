import { Secret, TOTP } from 'otpauth';
import type { Page } from 'playwright-core';
import { PASSWORD } from '../../support/api.js';
import { readMessages } from '../../support/messages.js';
import type { Stack } from '../../support/stack.js';
import type { FormVisit } from './form-walk.js';
import { led, on, pick, seen } from './ways.js';

/** Where the visits are made: the product, and the folder of its messages. */
export interface Scene {
  stack: Stack;
  messages: string;
  /** the page of somebody who is signed in */
  pageOf: (who: string) => Promise<Page>;
}

const toGateway = async (page: Page): Promise<void> => {
  const isThere = await page.getByRole('heading', { level: 1, name: /Gateway north/ }).isVisible();
  if (isThere) return;
  await page.goto('/sources');
  await page.getByRole('link', { name: 'Gateway north' }).click();
  await page.getByRole('heading', { level: 1, name: /Gateway north/ }).waitFor();
};
const atGateway =
  (button: string) =>
  async (page: Page): Promise<void> => {
    await toGateway(page);
    await page.getByRole('main').getByRole('button', { name: button, exact: true }).last().click();
  };

const OF_SOURCES: readonly FormVisit[] = [
  {
    head: 'source-new-',
    who: 'admin',
    open: on('/sources', 'Add a source'),
    fill: { Name: 'Gateway east' },
    submit: 'Add a source',
  },
  { head: 'source-', who: 'admin', open: atGateway('Change'), submit: 'Save' },
  {
    head: 'source-secret-',
    who: 'admin',
    open: atGateway('Make a new secret'),
    wrong: ['Older secrets go on for [h]', 'two days', '2 d'],
    submit: 'Make a new secret',
  },
  {
    head: 'source-map-',
    who: 'lead',
    open: atGateway('Name a machine'),
    choose: pick('Machine', 'MC-'),
    fill: { 'Its reference': 'VMC-seventh' },
    submit: 'Name a machine',
  },
  {
    head: 'dismiss-',
    who: 'lead',
    open: atGateway('Leave it as it is'),
    fill: { Why: 'a machine on trial' },
    submit: 'Leave it as it is',
  },
];

const openPerson = async (page: Page, name: string): Promise<void> => {
  await page.goto('/people');
  await page.getByRole('button', { name: `Change ${name}` }).click();
};

/** A link that an administrator made, and whoever opens it. */
const LINK = /\/invitation#[A-Za-z0-9_-]{43}/;
async function makeLink(scene: Scene, fill: (page: Page) => Promise<void>): Promise<string> {
  const page = await scene.pageOf('admin');
  await fill(page);
  await page.getByRole('button', { name: 'Make the link' }).click();
  await page.getByText(LINK).first().waitFor();
  return LINK.exec((await page.getByRole('dialog').textContent()) ?? '')?.[0] ?? '';
}

const listAccountForms = (scene: Scene): FormVisit[] => [
  {
    head: 'sign-in-',
    who: null,
    open: on('/sign-in'),
    fill: { 'E-mail': 'viewer@demo.example', Password: PASSWORD },
    submit: 'Sign in',
    saved: led(/^\/portal/),
  },
  {
    head: 'forgotten-',
    who: null,
    open: on('/forgotten-password'),
    fill: { 'E-mail': 'lead@demo.example' },
    submit: 'Send the link',
    saved: seen(/a link is on its way/),
  },
  {
    head: 'name-',
    who: 'installer',
    open: on('/account'),
    submit: 'Save',
    saved: () => Promise.resolve(),
  },
  {
    head: 'address-',
    who: 'lead',
    open: async (page) => {
      await page.goto('/account');
      await scene.stack.query('UPDATE sessions SET authenticated_at = now()');
    },
    wrong: ['E-mail', '', 'lead@demo.example'],
    submit: 'Send a message to prove it',
    saved: seen('Sent. Open the link in it within a day.'),
  },
  {
    head: 'new-password-',
    who: null,
    open: async (page) => {
      const lead = await scene.pageOf('lead');
      const [proof] = await readMessages(scene.messages, 'lead@demo.example', 'Is this your address?');
      await lead.goto(`/address#${proof?.token ?? ''}`);
      await lead.getByRole('button', { name: 'It is mine' }).click();
      await lead.getByRole('heading', { level: 1, name: 'The address is proven' }).waitFor();
      await page.goto('/forgotten-password');
      await page.getByLabel('E-mail').fill('lead@demo.example');
      await page.getByRole('button', { name: 'Send the link' }).click();
      await page.getByText(/a link is on its way/).waitFor();
      const [message] = await readMessages(scene.messages, 'lead@demo.example', 'A new password for Kedge');
      await page.goto(`/new-password#${message?.token ?? ''}`);
    },
    wrong: ['New password', 'short', 'five grey herons'],
    submit: 'Set the password',
  },
  {
    head: 'password-',
    who: 'installer',
    open: on('/account'),
    fill: { 'Present password': PASSWORD },
    wrong: ['New password', 'short', 'nine green rivers'],
    submit: 'Change the password',
    saved: seen('Changed. You are signed out everywhere else.'),
  },
  {
    head: 'codes-',
    who: 'viewer2',
    open: on('/account', 'Set one-time codes up'),
    wrong: [
      'The code that the app shows now',
      '12',
      async (page) => {
        const shown = await page
          .getByText(/Or type this secret/)
          .locator('code')
          .textContent();
        return new TOTP({ secret: Secret.fromBase32((shown ?? '').replace(/\s/g, '')) }).generate();
      },
    ],
    submit: 'Switch codes on',
  },
  {
    head: 'passkey-',
    who: null,
    open: async (page) => {
      // A bare address has no passkeys; the name of this machine has.
      const base = scene.stack.base.replace('127.0.0.1', 'localhost');
      const devtools = await page.context().newCDPSession(page);
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
      await page.getByLabel('E-mail').fill('viewer@demo.example');
      await page.getByLabel('Password').fill(PASSWORD);
      await page.getByRole('button', { name: 'Sign in', exact: true }).click();
      await page.waitForURL(/\/portal/);
      await page.goto(`${base}/account`);
    },
    fill: { 'Where it lives': 'Workshop tablet' },
    submit: 'Add a passkey',
    saved: seen('A passkey was added: Workshop tablet'),
  },
];

const listPeopleForms = (scene: Scene): FormVisit[] => [
  {
    head: 'invitation-new-',
    who: 'admin',
    open: on('/people', 'Add a person'),
    fill: { 'E-mail': 'ada.new@test.example', 'Name as others see it': 'Ada New' },
    submit: 'Make the link',
  },
  { head: 'person-', who: 'admin', open: (page) => openPerson(page, 'Breixo Ledrado'), submit: 'Save' },
  {
    head: 'hand-over-',
    who: 'admin',
    open: async (page) => {
      await openPerson(page, 'Marta Osorde');
      await page.locator('summary').filter({ hasText: 'Marta Osorde' }).click();
    },
    fill: { 'E-mail': 'marta.new@test.example' },
    submit: 'Make the link',
  },
  {
    head: 'invitation-',
    who: null,
    open: async (page) => {
      const link = await makeLink(scene, async (admin) => {
        await admin.goto('/people');
        await admin.getByRole('button', { name: 'Add a person' }).click();
        await admin.getByLabel('E-mail').fill('eva.new@test.example');
        await admin.getByLabel('Name as others see it').fill('Eva New');
      });
      await page.goto(link);
    },
    wrong: ['New password', 'short', 'three slow tides'],
    submit: 'Make the account and accept',
    saved: led(/^\/fleet/),
  },
  {
    head: 'invitation-existing-',
    who: null,
    open: async (page) => {
      const link = await makeLink(scene, async (admin) => {
        await openPerson(admin, 'Ines Tavoa');
        await admin.locator('summary').filter({ hasText: 'Ines Tavoa' }).click();
        await admin
          .getByRole('form', { name: /^Link for/ })
          .getByLabel('E-mail')
          .fill('engineer@demo.example');
      });
      await page.goto(link);
      await page.getByRole('button', { name: 'I have an account' }).click();
    },
    fill: { 'E-mail': 'engineer@demo.example', Password: PASSWORD },
    submit: 'Sign in and accept',
    saved: led(/^\/fleet/),
  },
  {
    head: 'api-key-new-',
    who: 'admin',
    open: on('/api-keys', 'Add a key'),
    choose: async (form) => form.getByRole('checkbox', { name: 'machines' }).check(),
    fill: { Program: 'Planning' },
    submit: 'Make the key',
  },
  {
    head: 'margins-',
    who: 'admin',
    open: on('/organisation'),
    wrong: ['Holds the workpiece', 'three', '4 %'],
    submit: 'Save the margins',
    saved: () => Promise.resolve(),
  },
  {
    head: 'identity-provider-new-',
    who: 'admin',
    open: on('/organisation', "Set up the organisation's sign-in"),
    fill: { 'Name on the button': 'The firm', 'Client id': 'kedge', 'Client secret': 'a secret' },
    wrong: ['Issuer', 'the firm', 'https://sign-in.firm.example'],
    submit: "Set up the organisation's sign-in",
    // No provider answers at a name that nobody has.
    refusedAs: /sign-in/,
  },
  {
    head: 'proof-',
    who: 'admin',
    open: async (page) => {
      await page.goto('/people');
      await scene.stack.query(`UPDATE sessions SET authenticated_at = now() - interval '1 hour'`);
      await page.getByRole('button', { name: 'Add a person' }).click();
      await page.getByLabel('E-mail').fill('later@test.example');
      await page.getByLabel('Name as others see it').fill('Somebody Later');
      await page.getByRole('button', { name: 'Make the link' }).click();
    },
    fill: { Password: PASSWORD },
    submit: 'Confirm',
  },
];

/** The forms of sources, people and accounts, in an order in which none takes away what a later one needs. */
export const listPeopleFormVisits = (scene: Scene): FormVisit[] => [
  ...OF_SOURCES,
  ...listPeopleForms(scene),
  ...listAccountForms(scene),
];
