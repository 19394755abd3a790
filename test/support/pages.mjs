import { spawn } from 'node:child_process';
import { once } from 'node:events';
import path from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';
import { findFreePort } from '@repo/launcher/ports';
import { chromium } from 'playwright-core';
import { CHROMIUM, FLAGS } from './chromium.mjs';

const ROOT = path.resolve(import.meta.dirname, '../..');
/** Carry both addresses from Jest's global set-up to its workers. */
const WEB_VARIABLE = 'TEST_WEB_URL';
const BROWSER_VARIABLE = 'TEST_BROWSER_URL';
const START_ROUNDS = 300;

/**
 * Starts what all page tests of a run can share, since neither keeps anything of a test: the server of pages, which knows no
 * database and no API, and the browser, in which every visit has a context of its own.
 * @returns {Promise<{ stop: () => Promise<void> }>}
 */
export async function startPages() {
  const port = await findFreePort();
  const next = path.join(ROOT, 'node_modules/next/dist/bin/next');
  const args = [next, 'start', '-p', String(port), '-H', '127.0.0.1', path.join(ROOT, 'apps/web')];
  const web = spawn(process.execPath, args, {
    stdio: 'ignore',
    env: { ...process.env, NODE_ENV: 'production', NEXT_TELEMETRY_DISABLED: '1' },
  });
  const stopWeb = async () => {
    if (web.exitCode !== null || web.signalCode !== null) return;
    const gone = once(web, 'exit');
    web.kill('SIGTERM');
    await gone;
  };
  try {
    const starting = untilAnswers(`http://127.0.0.1:${port}/sign-in`);
    const [browser] = await Promise.all([chromium.launchServer({ executablePath: CHROMIUM, args: FLAGS }), starting]);
    process.env[WEB_VARIABLE] = `http://127.0.0.1:${port}`;
    process.env[BROWSER_VARIABLE] = browser.wsEndpoint();
    return {
      stop: async () => {
        await browser.close();
        await stopWeb();
      },
    };
  } catch (error) {
    await stopWeb();
    throw error;
  }
}

/** Where they are. */
export function findPages() {
  const [webUrl, browserUrl] = [process.env[WEB_VARIABLE], process.env[BROWSER_VARIABLE]];
  if (webUrl === undefined || browserUrl === undefined)
    throw new Error('The pages are not served: startPages() comes first.');
  return { webUrl, browserUrl };
}

/** @param {string} url */
async function untilAnswers(url) {
  for (let round = 0; round < START_ROUNDS; round += 1) {
    const isUp = await fetch(url).then(
      (response) => response.status < 500,
      () => false,
    );
    if (isUp) return;
    await delay(100);
  }
  throw new Error(`${url} does not answer`);
}
