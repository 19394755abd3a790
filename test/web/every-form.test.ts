import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { startStack, type Visit } from '../support/stack.js';
import { walkForm } from './support/form-walk.js';
import { listForms, listOtherForms } from './support/listed-forms.js';
import { listPeopleFormVisits, type Scene } from './support/people-form-visits.js';
import { RECORD_FORM_VISITS } from './support/record-form-visits.js';

/** One page of each person is enough for all forms that they visit, and one for all that nobody is signed in for. */
const people = new Map<string, Visit>();
const scene = { pageOf: async (who) => (await pageOf(who)).page } as Scene;

beforeAll(async () => {
  scene.messages = fs.mkdtempSync(path.join(os.tmpdir(), 'kedge-messages-'));
  scene.stack = await startStack({ MESSAGES_DIR: scene.messages });
}, 180_000);
afterAll(async () => {
  await scene.stack.stop();
  fs.rmSync(scene.messages, { recursive: true, force: true });
});

const NOBODY = 'nobody';
async function pageOf(who: string | null): Promise<Visit> {
  const key = who ?? NOBODY;
  const visit = people.get(key) ?? (await scene.stack.as(who));
  // Nobody's page is there again once whoever signed in on it is gone: one on which a form failed never is.
  if (who === null) people.delete(key);
  else people.set(key, visit);
  return visit;
}

async function leave(visit: Visit): Promise<void> {
  await visit.page.evaluate(() => localStorage.clear());
  await visit.page.goto('about:blank');
  await visit.context.clearCookies();
  people.set(NOBODY, visit);
}

const heads = [...new Set(listForms().map(({ head }) => head))].sort();
const visits = [...RECORD_FORM_VISITS, ...listPeopleFormVisits(scene)];

test('every form of the pages is visited here', () => {
  expect(heads.length).toBeGreaterThan(40);
  expect(listOtherForms()).toEqual([]);
  expect(visits.map(({ head }) => head).sort()).toEqual(heads);
});

describe('whoever gets something wrong in a form is told once, types on, and saves', () => {
  it.each(visits.map((visit) => [visit.head, visit] as const))('%s', async (_head, visit) => {
    const person = await pageOf(visit.who);
    await walkForm(person.page, visit, heads);
    if (visit.who === null) await leave(person);
  });
});
