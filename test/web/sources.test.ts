import { createHmac } from 'node:crypto';
import path from 'node:path';
import type { Page } from 'playwright-core';
import { uuidv7 } from 'uuidv7';
import { startStack, violationsOf, type Stack } from '../support/stack.js';

let stack: Stack;
beforeAll(async () => {
  stack = await startStack();
}, 240_000);
afterAll(() => stack.stop());

/** Pictures for whoever asks for them. */
async function picture(page: Page, name: string): Promise<void> {
  const folder = process.env.PICTURES_DIR;
  if (folder !== undefined) await page.screenshot({ path: path.join(folder, `${name}.png`), fullPage: true });
}

const toSource = async (page: Page, name: string): Promise<void> => {
  await page.goto('/sources');
  await page.getByRole('link', { name }).click();
  await page.getByRole('heading', { level: 1, name: new RegExp(name) }).waitFor();
};

interface Standing {
  machineId: string;
  machineName: string;
  circuitName: string;
}

/** A gateway that sends half an hour of one circuit twice, minute by minute, with other numbers. */
async function sendTwice(admin: Page, name: string): Promise<Standing> {
  const post = async (to: string, data: object): Promise<{ secret: string }> => {
    const headers = { 'idempotency-key': `"${uuidv7()}"` };
    const answer = await admin.request.post(`/api/v1${to}`, { data, headers });
    if (!answer.ok()) throw new Error(`${to}: ${answer.status()} ${await answer.text()}`);
    return (await answer.json()) as { secret: string };
  };
  const { items } = (await (await admin.request.get('/api/v1/circuits/standings?limit=1')).json()) as {
    items: Standing[];
  };
  const [standing] = items;
  if (standing === undefined) throw new Error('there is no circuit');
  const id = uuidv7();
  const { secret } = await post('/sources', { id, name });
  await post(`/sources/${id}/machines`, { id: uuidv7(), externalReference: 'M-many', machineId: standing.machineId });
  const startMs = Date.parse('2026-01-05T06:00:00Z');
  for (const [webhookId, clampCycles] of [
    ['many_a', 3],
    ['many_b', 4],
  ] as const) {
    const intervals = Array.from({ length: 30 }, (_, n) => ({
      circuit: standing.circuitName,
      from: new Date(startMs + n * 60_000).toISOString(),
      to: new Date(startMs + (n + 1) * 60_000).toISOString(),
      revision: 1,
      clampCycles: clampCycles + 2 * n,
      alarms: {},
    }));
    const now = new Date();
    const data = JSON.stringify({
      type: 'alarm.counts',
      timestamp: now.toISOString(),
      data: [{ machine: 'M-many', intervals }],
    });
    const seconds = String(Math.floor(now.getTime() / 1000));
    const key = Buffer.from(secret.replace('whsec_', ''), 'base64');
    const signature = createHmac('sha256', key).update(`${webhookId}.${seconds}.${data}`).digest('base64');
    const headers = {
      'content-type': 'application/json',
      'webhook-id': webhookId,
      'webhook-timestamp': seconds,
      'webhook-signature': `v1,${signature}`,
    };
    const answer = await admin.request.post(`/api/v1/sources/${id}/alarm-counts`, { data, headers });
    if (!answer.ok()) throw new Error(`a delivery: ${answer.status()} ${await answer.text()}`);
  }
  return standing;
}

describe('the pages of sources', () => {
  it('say which gateway is silent; the lead settles a contradiction and takes in what a stranger sent', async () => {
    const { page, context, complaints } = await stack.as('lead');
    await page.goto('/fleet');
    await page.getByRole('link', { name: 'Sources' }).click();
    await page.getByRole('heading', { level: 1, name: '1 of 2 sources is silent' }).waitFor();
    await page.getByText('2 findings to settle').waitFor();
    await toSource(page, 'Gateway north');
    const contradiction = page.getByRole('listitem').filter({ hasText: 'Two deliveries give different numbers' });
    await contradiction.getByRole('button', { name: /^This one counts: delivery demo-.*-again$/ }).click();
    await contradiction.waitFor({ state: 'detached' });
    const stranger = page.getByRole('listitem').filter({ hasText: 'VMC-new' });
    await stranger.getByRole('button', { name: 'Take it in again' }).click();
    await stranger.getByText(/still cannot be taken in/).waitFor();
    await stranger.getByRole('button', { name: 'Name a machine' }).click();
    const form = page.getByRole('dialog');
    expect(await form.getByLabel('Its reference').inputValue()).toBe('VMC-new');
    await form.getByLabel('Machine', { exact: true }).fill('VMC-01');
    // The list comes from the server and is drawn anew when it arrives: chosen from once it has.
    await page.waitForLoadState('networkidle');
    await page
      .getByRole('option', { name: /VMC-01/ })
      .first()
      .click();
    await page.getByRole('listbox').waitFor({ state: 'detached' });
    await form.getByRole('button', { name: 'Name a machine' }).click();
    await form.waitFor({ state: 'detached' });
    await stranger.getByRole('button', { name: 'Take it in again' }).click();
    // Its day was reported by the machine's own name already: what contradicts that is a finding of its own.
    await page
      .getByText('Nothing waits for you.')
      .or(page.getByText('Two deliveries give different numbers'))
      .waitFor();
    expect(complaints.filter((line) => !line.includes('status of 409'))).toEqual([]);
    await context.close();
  });

  it('show an administrator a secret once, and let it be rotated', async () => {
    const { page, context } = await stack.as('admin');
    await page.goto('/sources');
    await page.getByRole('button', { name: 'Add a source' }).click();
    await page.getByRole('dialog').getByLabel('Name').fill('Gateway south');
    await page.getByRole('dialog').getByRole('button', { name: 'Add a source' }).click();
    const shown = page.getByRole('dialog', { name: 'The secret, shown this once' });
    expect(await shown.locator('code').textContent()).toMatch(/^whsec_[A-Za-z0-9+/]{43}=$/);
    await shown.getByRole('button', { name: 'Close' }).click();
    await toSource(page, 'Gateway south');
    expect(await page.content()).not.toContain('whsec_');
    await page.getByRole('button', { name: 'Make a new secret' }).click();
    await page.getByRole('dialog').getByRole('button', { name: 'Make a new secret' }).click();
    await shown.locator('code').waitFor();
    await shown.getByRole('button', { name: 'Close' }).click();
    await page.getByText(/ends /).first().waitFor();
    await context.close();
  });

  it('the machine page shows the leak growing, its gap and what was revised, also as a table, and changes the rule', async () => {
    const { page, context, complaints } = await stack.as('lead');
    await page.goto('/issues');
    await page.getByRole('link', { name: /11 alarms within 1 d/ }).click();
    await page.getByRole('link', { name: /^[VH]MC-/ }).click();
    const panel = page.locator('#counts');
    await panel.getByText('Pump strokes while holding').first().waitFor();
    await panel.getByRole('img', { name: /Pump strokes while holding by the day, \d+ in all, at most 16/ }).waitFor();
    await panel
      .getByText(/1 gap in what was reported/)
      .first()
      .waitFor();
    await panel.getByText(/1 interval revised/).waitFor();
    await panel.getByText('As a table').first().click();
    const rows = await panel
      .getByRole('table', { name: /^Counts of/ })
      .first()
      .getByRole('row')
      .count();
    expect(rows).toBeGreaterThan(30);
    await panel.getByText('10 alarms of any kind within 24 hours open an issue.').waitFor();
    await panel.getByRole('button', { name: 'Change the rule' }).click();
    await page.getByRole('dialog').getByLabel('Number of alarms').fill('8');
    await page.getByRole('dialog').getByRole('button', { name: 'Save' }).click();
    await panel.getByText('8 alarms of any kind within 24 hours open an issue.').waitFor();
    await panel.getByRole('button', { name: '7 days' }).click();
    await panel
      .getByText(/by the day/)
      .first()
      .waitFor();
    expect(complaints).toEqual([]);
    await context.close();
  });

  it.each([
    [360, 'light'],
    [820, 'dark'],
    [1440, 'light'],
  ] as const)('at %d in %s nothing scrolls sideways, and nobody is kept out', async (width, theme) => {
    const { page, context } = await stack.as('admin', { width, height: 1180, theme });
    for (const name of ['list', 'detail', 'issue', 'machine']) {
      if (name === 'list') {
        await page.goto('/sources');
        await page.getByRole('link', { name: 'Gateway north' }).waitFor();
      } else if (name === 'detail') {
        await toSource(page, 'Gateway north');
        // The table repeats the heading for those who hear it.
        await page.getByRole('heading', { name: 'What it calls which machine' }).waitFor();
      } else if (name === 'issue') {
        await page.goto('/issues');
        await page.getByRole('link', { name: /11 alarms within 1 d/ }).click();
        await page.getByRole('heading', { name: 'Why it was opened' }).waitFor();
      } else {
        await page.getByRole('link', { name: /^[VH]MC-/ }).click();
        if (width === 360) await page.getByRole('button', { name: 'Open all' }).click();
        await page.locator('#counts').getByText('Pump strokes while holding').first().waitFor();
      }
      await page.waitForLoadState('networkidle');
      const overflow = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
      expect([name, overflow <= 0]).toEqual([name, true]);
      await picture(page, `${name}-${width}-${theme}`);
      expect([name, await violationsOf(page)]).toEqual([name, []]);
    }
    await context.close();
  });

  it('say in hours what is hours, and leave room between two buttons', async () => {
    const { page, context } = await stack.as('lead');
    await toSource(page, 'Gateway north');
    await page.getByText('None: something came at least every 36 h.').waitFor();
    const name = page.getByRole('button', { name: 'Name a machine' }).last();
    const more = page.locator('div', { has: name }).last().getByRole('button', { name: 'Show more' });
    const [left, right] = [await more.boundingBox(), await name.boundingBox()];
    expect([left?.y, (left?.x ?? 0) + (left?.width ?? 0) + 8]).toEqual([right?.y, right?.x]);
    await context.close();
  });

  it('tell many contradictions as one finding, and one press lets all of one delivery stand', async () => {
    const admin = await stack.as('admin', { width: 360, height: 800 });
    const standing = await sendTwice(admin.page, 'Gateway twice');
    const { page, complaints } = admin;
    await toSource(page, 'Gateway twice');
    const finding = page.getByRole('listitem').filter({ hasText: 'Two deliveries give different numbers' });
    await finding.getByText('30 intervals contradict each other; what you choose counts for all of them').waitFor();
    expect(await finding.getByRole('button', { name: /^This one counts/ }).count()).toBe(2);
    expect(await finding.count()).toBe(1);
    expect(await finding.textContent()).toContain(standing.circuitName);
    const overflow = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
    expect(overflow).toBeLessThanOrEqual(0);
    await picture(page, 'many-contradictions-360');
    const sent = page.waitForRequest(/settlement$/);
    await finding.getByRole('button', { name: 'This one counts: delivery many_b' }).click();
    // The delivery, not one of its numbers.
    expect((await sent).postDataJSON()).toEqual({ sourceId: expect.any(String), webhookId: 'many_b' });
    await page.getByText('Nothing waits for you.').waitFor();
    expect(complaints).toEqual([]);
    await admin.context.close();
  });
});
