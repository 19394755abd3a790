import fs from 'node:fs';
import path from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';
import { findFreePort, findPortProblem } from '@repo/launcher/ports';
import { isProcessAlive, readPostmaster } from '@repo/launcher/processes';
import { startLauncher } from './support/launcher.js';
import { findChildren } from './support/processes.js';
import { createTemporaryFolder } from './support/temporary-folder.js';

const ROOT = path.join(import.meta.dirname, '../..');
/** A sentence of the API's own description, compiled in a package below it. */
const CONTRACT = path.join(ROOT, 'packages/contracts/src/sites/sites.routes.ts');
/** A word of a page that anybody may open. */
const WORDS = path.join(ROOT, 'apps/web/src/messages/en/account.ts');

/** On two busy cores the first look at all types takes more than a minute. */
const WITHIN_MS = 180_000;

async function waitUntil(isTrue: () => boolean | Promise<boolean>, what: string): Promise<void> {
  for (const startedAt = Date.now(); !(await isTrue()); await delay(100)) {
    if (Date.now() - startedAt > WITHIN_MS) throw new Error(`waited ${WITHIN_MS} ms for this: ${what}`);
  }
}

/** Whether an address answers with a text; while a server is started anew, nothing may answer. */
const says = (url: string, text: string): Promise<boolean> =>
  fetch(url).then(
    async (answer) => (await answer.text()).includes(text),
    () => false,
  );

describe('npm run dev', () => {
  it('answers what is changed in a package and in a page, behind one port, and Ctrl-C stops all of it', async () => {
    const folder = createTemporaryFolder();
    const [dataDir, port] = [path.join(folder, 'data'), await findFreePort()];
    const kept = [CONTRACT, WORDS].map((file) => [file, fs.readFileSync(file, 'utf8')] as const);
    const developing = startLauncher({ PORT: String(port), DATA_DIR: dataDir }, ['--no-demo'], 'dev');
    const base = `http://127.0.0.1:${port}`;
    const change = (file: string, from: string, to: string): void => {
      const text = fs.readFileSync(file, 'utf8');
      expect(text).toContain(from);
      fs.writeFileSync(file, text.replace(from, to));
    };
    try {
      await developing.ready();
      const databasePid = readPostmaster(path.join(dataDir, 'postgres'))?.pid ?? 0;
      expect(isProcessAlive(databasePid)).toBe(true);
      const [description, page] = [`${base}/api/v1/openapi.json`, `${base}/sign-in`];
      expect(await says(description, '"summary":"List sites"')).toBe(true);
      expect(await says(page, 'Sign in')).toBe(true);

      await waitUntil(() => developing.output().includes('watching packages and API'), 'the first look at all sources');
      change(CONTRACT, "summary: 'List sites'", "summary: 'changed while it runs'");
      change(WORDS, "'signIn.title': 'Sign in'", "'signIn.title': 'changed while it runs'");
      await waitUntil(
        () => says(description, 'changed while it runs'),
        'the changed summary in the description of the API',
      );
      await waitUntil(() => says(page, 'changed while it runs'), 'the changed title of the page');

      for (const [file, text] of kept) fs.writeFileSync(file, text);
      await waitUntil(() => says(description, '"summary":"List sites"'), 'the summary as it was');
      const children = findChildren(developing.process.pid ?? 0, /node/);
      expect(children.length).toBeGreaterThanOrEqual(3);
      developing.process.kill('SIGINT');
      expect(await developing.ended).toBe(0);
      expect([databasePid, ...children].filter(isProcessAlive)).toEqual([]);
      expect(await findPortProblem(port, '127.0.0.1')).toBeNull();
    } finally {
      for (const [file, text] of kept) if (fs.readFileSync(file, 'utf8') !== text) fs.writeFileSync(file, text);
      developing.process.kill('SIGINT');
      await developing.ended;
      fs.rmSync(folder, { recursive: true, force: true });
    }
  }, 600_000);
});
