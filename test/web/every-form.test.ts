import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { startStack, type Visit } from '../support/stack.js';
import { walkForm } from './support/form-walk.js';
import { listForms, listOtherForms } from './support/listed-forms.js';
import { listPeopleFormVisits, type Scene } from './support/people-form-visits.js';
import { RECORD_FORM_VISITS } from './support/record-form-visits.js';

const scene = {} as Scene;
/** One page of each person is enough for all forms that they visit. */
const people = new Map<string, Visit>();

beforeAll(async () => {
  scene.messages = fs.mkdtempSync(path.join(os.tmpdir(), 'kedge-messages-'));
  scene.stack = await startStack({ MESSAGES_DIR: scene.messages });
}, 180_000);
afterAll(async () => {
  await scene.stack.stop();
  fs.rmSync(scene.messages, { recursive: true, force: true });
});

async function pageOf(who: string | null): Promise<Visit> {
  if (who === null) return scene.stack.as(null);
  const known = people.get(who);
  if (known !== undefined) return known;
  const visit = await scene.stack.as(who);
  people.set(who, visit);
  return visit;
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
    const { page, context } = await pageOf(visit.who);
    page.setDefaultTimeout(20_000);
    await walkForm(page, visit, heads);
    if (visit.who === null) await context.close();
  });
});
