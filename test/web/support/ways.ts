import type { Locator, Page } from 'playwright-core';

/** As it is typed into a day with its time: a key goes on from the year to the hour. */
export const YESTERDAY = ((): string => {
  const [year = '', month = '', day = ''] = new Date(Date.now() - 86_400_000).toISOString().slice(0, 10).split('-');
  return `${month}${day}${year}→0910AM`;
})();

interface Row {
  id: string;
  name: string;
}
export async function findRow(page: Page, list: string, which?: (row: Row, index: number) => boolean): Promise<string> {
  const first = `${list.includes('?') ? '&' : '?'}limit=1`;
  const answer = await page.request.get(`/api/v1/${list}${which === undefined ? first : ''}`);
  const { items } = (await answer.json()) as { items: Row[] };
  return items.find(which ?? (() => true))?.id ?? '';
}

/**
 * Goes to a page, unless it is there already: whoever has saved one form opens the next on the same page, which must have taken in what
 * was saved.
 */
export async function goTo(page: Page, address: string): Promise<void> {
  const { pathname, search } = new URL(page.url());
  if (pathname + search !== address) await page.goto(address);
}

/** The first of a list has a page; a button there opens the form. */
export const from =
  (list: string, button: string | RegExp, tail = '') =>
  async (page: Page): Promise<void> => {
    await goTo(page, `/${list}/${await findRow(page, list)}${tail}`);
    await page.getByRole('main').getByRole('button', { name: button }).first().click();
  };
export const on =
  (path: string, button: string | RegExp | null = null) =>
  async (page: Page): Promise<void> => {
    await goTo(page, path);
    if (button !== null) await page.getByRole('main').getByRole('button', { name: button }).first().click();
  };
/** As often as somebody would choose again who sees that the list has closed before the choice was made. */
const MOST_CHOICES = 3;

export const pick =
  (label: string, text: string) =>
  async (form: Locator, page: Page): Promise<void> => {
    const field = form.getByRole('combobox', { name: label, exact: true });
    for (let times = 1; times <= MOST_CHOICES; times += 1) {
      // The page behind goes on loading: what it moves closes the list, and be it under the pointer.
      await page.waitForLoadState('networkidle');
      await field.press('ControlOrMeta+a');
      await field.pressSequentially(text);
      await page.waitForLoadState('networkidle');
      const first = page.getByRole('listbox').getByRole('option').first();
      const chosen = await first.innerText();
      await first.click();
      await page.getByRole('listbox').waitFor({ state: 'detached' });
      if ((await field.inputValue()) === chosen) return;
    }
    throw new Error(`${label}: nothing is chosen`);
  };
export const seen =
  (text: string | RegExp) =>
  async (page: Page): Promise<void> =>
    page.getByText(text).first().waitFor();
export const led =
  (path: RegExp) =>
  async (page: Page): Promise<void> =>
    page.waitForURL((url) => path.test(url.pathname));
