import type { Page } from 'playwright-core';

/** Keys that Playwright knows from a keyboard; what is on none of them comes as text. */
const ON_A_KEY = /^[ -~]$/;

/**
 * Types key by key as a quick hand does: each key goes down and comes up, and the next one does not wait for the page to have been drawn.
 * The first does: what a page does when somebody begins to type comes between it and the others.
 */
export async function typeKeys(page: Page, text: string): Promise<void> {
  const [first = '', ...others] = text;
  await page.keyboard.type(first);
  const { keyboard } = page;
  await Promise.all(
    others.flatMap((key) => (ON_A_KEY.test(key) ? [keyboard.down(key), keyboard.up(key)] : [keyboard.type(key)])),
  );
}
