import { spawn } from 'node:child_process';
import { once } from 'node:events';
import path from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';
import { findFreePort } from '@repo/launcher/ports';
import { chromium } from 'playwright-core';
import { CHROMIUM, FLAGS } from './chromium.mjs';
import { tellPages } from './page-addresses.mjs';

const ROOT = path.resolve(import.meta.dirname, '../..');
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
    tellPages({ webUrl: `http://127.0.0.1:${port}`, browserUrl: browser.wsEndpoint() });
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
