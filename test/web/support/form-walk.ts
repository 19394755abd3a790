import type { Locator, Page, Request } from 'playwright-core';
import { typeKeys } from './keys.js';

/** How one form is reached and filled in. */
export interface FormVisit {
  /** with what the ids of its fields begin */
  head: string;
  who: string | null;
  /** opens the page, and the form on it */
  open: (page: Page) => Promise<void>;
  /** what is chosen or ticked before anything is typed */
  choose?: (form: Locator, page: Page) => Promise<void>;
  /** what is typed, by label; a field that holds something already keeps it */
  fill?: Readonly<Record<string, string>>;
  /** the field that is got wrong: its label, what is wrong, what is right; by itself the first that is needed, left empty */
  wrong?: readonly [label: string, wrong: string, right: string | ((page: Page) => Promise<string>)];
  submit: string | RegExp;
  /** what the form says where the service cannot do it here */
  refusedAs?: RegExp;
  /** by what it is seen to be saved, beside the answer of the service */
  saved?: (page: Page, form: Locator) => Promise<void>;
}

interface Said {
  id: string | null;
  text: string;
  /** the label of its field as the reader sees it */
  label: string;
}

const byId = (page: Page, id: string): Locator => page.locator(`[id="${id}"]`);

/** What the summary says, line by line, each with the label of the field that it leads to. */
function readSummary(form: Locator): Promise<Said[]> {
  return form.locator('[role=alert] li').evaluateAll((lines) =>
    lines.map((line) => {
      const id = line.querySelector('a')?.getAttribute('href')?.slice(1) ?? null;
      const field = id === null ? null : document.getElementById(id);
      const legend = field?.querySelector(':scope > legend')?.textContent;
      const label = (field as HTMLInputElement | null)?.labels?.[0]?.textContent ?? legend ?? '';
      return { id, text: line.textContent, label };
    }),
  );
}

/** The fields that are marked as needed and stand empty now or can be emptied by keys. */
function readNeeded(form: Locator): Promise<{ id: string; value: string; isTyped: boolean; label: string }[]> {
  return form.locator('[data-needed]').evaluateAll((labels) =>
    labels.map((label) => {
      const group = label.closest('fieldset[id]');
      const field = (
        label instanceof HTMLLabelElement ? document.getElementById(label.htmlFor) : group
      ) as HTMLInputElement;
      const isTyped =
        !['SELECT', 'FIELDSET'].includes(field.tagName) &&
        field.getAttribute('role') !== 'combobox' &&
        field.type !== 'date';
      const value = field === group ? (group.querySelector(':checked') === null ? '' : 'some') : field.value;
      return { id: field.id, value, isTyped, label: label.textContent };
    }),
  );
}

/** Counts how often the summary takes the focus from now on. */
async function countSummaryFocus(page: Page): Promise<() => Promise<number>> {
  await page.evaluate(() => {
    const counted = globalThis as unknown as { summaryFocus?: number };
    if (counted.summaryFocus === undefined)
      document.addEventListener('focusin', ({ target }) => {
        if ((target as Element).getAttribute('role') === 'alert')
          counted.summaryFocus = (counted.summaryFocus ?? 0) + 1;
      });
    counted.summaryFocus = 0;
  });
  return () => page.evaluate(() => (globalThis as unknown as { summaryFocus: number }).summaryFocus);
}

const focusedId = (page: Page): Promise<string> => page.evaluate(() => document.activeElement?.id ?? '');

/** Puts the focus in a field; its id, what it is, and from now on where the focus is whenever a key goes down or comes up. */
function focusWatched(field: Locator): Promise<{ id: string; type: string }> {
  return field.evaluate((input: HTMLInputElement) => {
    const watched = globalThis as unknown as { focusAtKeys?: string[] };
    if (watched.focusAtKeys === undefined)
      for (const event of ['keydown', 'keyup'] as const)
        globalThis.addEventListener(event, () => watched.focusAtKeys?.push(document.activeElement?.id ?? ''), true);
    watched.focusAtKeys = [];
    // Again from its first part, where a day has parts.
    if (document.activeElement === input) input.blur();
    input.focus();
    return { id: document.activeElement?.id ?? '', type: input.type };
  });
}

/** Types key by key; tells where the focus was whenever a key went down or came up, and once the page was drawn after the last of them. */
async function typeWatched(page: Page, text: string): Promise<string[]> {
  await page.evaluate(() => {
    (globalThis as unknown as { focusAtKeys: string[] }).focusAtKeys = [];
  });
  for (const part of text.split(/(→)/)) await (part === '→' ? page.keyboard.press('ArrowRight') : typeKeys(page, part));
  return page.evaluate(async () => {
    await new Promise((drawn) => requestAnimationFrame(() => requestAnimationFrame(drawn)));
    return [...(globalThis as unknown as { focusAtKeys: string[] }).focusAtKeys, document.activeElement?.id ?? ''];
  });
}

/** Types over what stands in a field, key by key; the focus must stay where it is. */
async function retype(page: Page, field: Locator, text: string): Promise<void> {
  const { id, type } = await focusWatched(field);
  if (!/^(date|datetime-local)$/.test(type)) {
    await page.keyboard.press('ControlOrMeta+a');
    if (text === '') await page.keyboard.press('Backspace');
  }
  if (text === '') return;
  // Down and up for each key, and once after the last.
  const places = Array.from({ length: [...text].length * 2 + 1 }, () => id);
  expect(await typeWatched(page, text)).toEqual(places);
}

/** All that a form owes to whoever gets something wrong in it; ends with its being saved. */
export async function walkForm(page: Page, visit: FormVisit, heads: readonly string[]): Promise<void> {
  await visit.open(page);
  const form = page.locator(`form:has([id^="${visit.head}"])`).last();
  await form.waitFor();
  const ids = await form.evaluate((one) => [...one.querySelectorAll('[id]')].map(({ id }) => id));
  const headOf = (id: string): string | undefined =>
    heads.filter((head) => id.startsWith(head)).sort((a, b) => b.length - a.length)[0];
  expect(new Set(ids.filter((id) => !id.startsWith('react-')).map(headOf))).toEqual(new Set([visit.head]));
  const submit = form.getByRole('button', { name: visit.submit });

  // Choices that arrive while a field is emptied put back what was chosen. A page on which circuits are being computed asks again until they are.
  if ((await form.getByRole('combobox').count()) > 0) await page.waitForLoadState('networkidle');

  // Whatever is marked as needed is missed when it is empty, and nothing else is.
  const needed = await readNeeded(form);
  for (const { id, isTyped } of needed) if (isTyped) await retype(page, byId(page, id), '');
  const asked = new Set(needed.filter(({ value, isTyped }) => isTyped || value === '').map(({ id }) => id));
  if (asked.size > 0) {
    await submit.click();
    await form.locator('[role=alert] li').first().waitFor();
    const lines = await readSummary(form);
    expect(
      new Set(lines.filter(({ text }) => / is missing|^Say where|choose at least one$/.test(text)).map(({ id }) => id)),
    ).toEqual(asked);
    expect(lines.filter(({ text, label }) => label === '' || !names(text, label))).toEqual([]);
    expect(new Set(lines.map(({ text }) => text)).size).toBe(lines.length);
  }

  await visit.choose?.(form, page);
  for (const { id, value, label, isTyped } of needed) {
    if (!isTyped) continue;
    const text = visit.fill?.[label] ?? value;
    if (text !== '' && label !== visit.wrong?.[0]) await retype(page, byId(page, id), text);
  }
  for (const [label, text] of Object.entries(visit.fill ?? {}))
    if (!needed.some((field) => field.label === label))
      await retype(page, form.getByLabel(label, { exact: true }).first(), text);

  await getOneWrong({ page, form, submit, visit, needed });

  const sent: string[] = [];
  const note = (request: Request): void => void sent.push(`${request.method()} ${new URL(request.url()).pathname}`);
  page.on('request', note);
  const answer = page
    .waitForResponse((response) => response.request().method() !== 'GET' && response.url().includes('/api/v1/'))
    .catch(async (error: unknown) => {
      const shown = (await form.count()) === 0 ? 'the form is gone' : await form.innerText();
      throw new Error(`no answer came; sent: ${sent.join(', ')}\n${shown}`, { cause: error });
    })
    .finally(() => page.off('request', note));
  await submit.click();
  if (visit.refusedAs !== undefined) {
    await form.getByRole('alert').filter({ hasText: visit.refusedAs }).waitFor();
    return;
  }
  // Figures that look wrong are asked about; the question stands there as soon as the button was pressed.
  const asking = form.getByRole('button', { name: 'Save all the same' });
  if ((await asking.count()) > 0) await asking.click();
  const response = await answer;
  expect([response.request().method(), response.status() < 300 ? 'saved' : await response.text()]).toEqual([
    response.request().method(),
    'saved',
  ]);
  await (visit.saved === undefined ? form.waitFor({ state: 'detached' }) : visit.saved(page, form));
}

interface Walk {
  page: Page;
  form: Locator;
  submit: Locator;
  visit: FormVisit;
  needed: Awaited<ReturnType<typeof readNeeded>>;
}

/** Gets one field wrong, and then right. Where nothing can be typed, nothing can be mistyped. */
async function getOneWrong({ page, form, submit, visit, needed }: Walk): Promise<void> {
  // One field is wrong: the summary takes the focus, once.
  const first = needed.find(({ isTyped }) => isTyped);
  if (visit.wrong === undefined && first === undefined) return;
  const itsOwn = visit.fill?.[first?.label ?? ''] ?? `${first?.value ?? ''}1`;
  const [label, wrong, right] = visit.wrong ?? [first?.label ?? '', '', itsOwn];
  const field =
    visit.wrong === undefined ? byId(page, first?.id ?? '') : form.getByLabel(label, { exact: true }).first();
  await retype(page, field, wrong);
  const fieldId = await focusedId(page);
  const timesFocused = await countSummaryFocus(page);
  await submit.click();
  await form.locator(`[role=alert] a[href="#${fieldId}"]`).waitFor();
  expect(await page.evaluate(() => document.activeElement?.getAttribute('role'))).toBe('alert');
  expect(await timesFocused()).toBe(1);
  expect(await field.getAttribute('aria-invalid')).toBe('true');
  const lines = await readSummary(form);
  expect(lines.filter((one) => one.id === fieldId)).toHaveLength(1);
  expect(lines.filter((one) => one.label === '' || !names(one.text, one.label))).toEqual([]);

  // Its line leads to it; while it is typed right the focus stays, and what was wrong goes at once.
  await form.locator(`[role=alert] a[href="#${fieldId}"]`).click();
  expect(await focusedId(page)).toBe(fieldId);
  await retype(page, field, typeof right === 'string' ? right : await right(page));
  expect(await form.locator(`[role=alert] a[href="#${fieldId}"]`).count()).toBe(0);
  expect(await field.getAttribute('aria-invalid')).toBeNull();
  expect(await timesFocused()).toBe(1);
}

/** Whether a sentence says which field it is about. */
const names = (text: string, label: string): boolean => text.toLowerCase().includes(label.toLowerCase());
