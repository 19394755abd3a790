import fs from 'node:fs';
import path from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';
import { startEmbeddedPostgres } from '@repo/launcher/embedded-postgres';
import { findFreePort } from '@repo/launcher/ports';
import { readPostmaster } from '@repo/launcher/processes';
import { startLauncher, type Launcher } from './launcher.js';
import { createTemporaryFolder } from './temporary-folder.js';

/** Waits for what happens in another process. */
export async function waitUntil(isTrue: () => boolean | Promise<boolean>, what: string): Promise<void> {
  for (const startedAt = Date.now(); !(await isTrue()); await delay(50)) {
    if (Date.now() - startedAt > 20_000) throw new Error(`waited 20 s for this: ${what}`);
  }
}

/** A data folder and a port of its own, and whatever is started on them. */
export class StartBench {
  readonly folder = createTemporaryFolder();
  readonly dataDir = path.join(this.folder, 'data');
  private readonly launchers: Launcher[] = [];

  private constructor(readonly port: number) {}

  static async make(): Promise<StartBench> {
    return new StartBench(await findFreePort());
  }

  start(env: NodeJS.ProcessEnv = {}, args?: string[]): Launcher {
    const launcher = startLauncher({ PORT: String(this.port), DATA_DIR: this.dataDir, ...env }, args);
    this.launchers.push(launcher);
    return launcher;
  }

  readDatabasePid(): number {
    return readPostmaster(path.join(this.dataDir, 'postgres'))?.pid ?? 0;
  }

  /** Signs in as the demonstration's engineer. */
  signIn(password: string): Promise<Response> {
    return fetch(`http://127.0.0.1:${this.port}/api/v1/sessions`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ email: 'engineer@demo.example', password }),
    });
  }

  async clear(): Promise<void> {
    for (const launcher of this.launchers) {
      launcher.process.kill('SIGINT');
      await launcher.ended;
    }
    if (fs.existsSync(path.join(this.dataDir, 'postgres'))) {
      await (await startEmbeddedPostgres({ dataDir: this.dataDir })).stop();
    }
    fs.rmSync(this.folder, { recursive: true, force: true });
  }
}
