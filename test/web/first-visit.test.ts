import type { Page } from 'playwright-core';
import { startStack, type Stack } from '../support/stack.js';

let stack: Stack;
beforeAll(async () => {
  stack = await startStack();
}, 180_000);
afterAll(() => stack.stop());

/** Scripts of the page on which everybody begins, as they lie on the server [bytes]. */
const MOST_SCRIPT_BYTES = 1_000_000;

const readLanguage = (page: Page): Promise<string> => page.evaluate(() => document.documentElement.lang);
const languageOf = (html: string): string | undefined => /<html lang="([^"]*)"/.exec(html)?.[1];

describe('the first page', () => {
  it('loads no more scripts than it has words and fields for', async () => {
    const { page, context, complaints } = await stack.as(null);
    const arrived: Promise<number>[] = [];
    page.on('response', (response) => {
      if (new URL(response.url()).pathname.endsWith('.js')) arrived.push(response.body().then(({ length }) => length));
    });
    await page.goto('/sign-in');
    await page.waitForLoadState('networkidle');
    const sizes = await Promise.all(arrived);
    expect(sizes.length).toBeGreaterThan(5);
    expect(sizes.reduce((sum, size) => sum + size, 0)).toBeLessThan(MOST_SCRIPT_BYTES);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('speaks the language that was chosen in this browser, from the title on', async () => {
    const { page, context } = await stack.as(null);
    await page.goto('/sign-in');
    expect([await page.title(), await readLanguage(page)]).toEqual(['Sign in · Kedge', 'en-GB']);
    await context.addCookies([{ name: 'kedge-locale', value: 'pseudo', url: stack.base }]);
    // As it leaves the server, before any script has run.
    const html = await (await page.request.get('/sign-in')).text();
    const title = /<title>([^<]*)/.exec(html)?.[1];
    expect(title).toBe('[Šîğñ îñ···] · [Këdğë··]');
    expect(languageOf(html)).toBe('en');
    await page.goto('/sign-in');
    await page.getByRole('button', { name: '[Šîğñ îñ···]' }).waitFor();
    expect(await readLanguage(page)).toBe('en');
    await context.close();
  });

  it('takes the default language where a browser asks for none that is here', async () => {
    const { page, context } = await stack.as(null);
    for (const asked of ['xx', 'en-US,en;q=0.5']) {
      const answer = await page.request.get('/sign-in', { headers: { 'accept-language': asked } });
      expect(languageOf(await answer.text())).toBe('en-GB');
    }
    await context.close();
  });

  it('leads a browser that asks for an icon by itself to the icon of the pages', async () => {
    const { page, context } = await stack.as(null);
    const answer = await page.request.get('/favicon.ico');
    expect([answer.status(), answer.headers()['content-type']]).toEqual([200, 'image/svg+xml']);
    await context.close();
  });
});
