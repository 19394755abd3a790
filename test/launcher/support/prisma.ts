import { spawn } from 'node:child_process';
import { fileURLToPath } from 'node:url';

const ROOT = fileURLToPath(new URL('../../../', import.meta.url));

/** Runs Prisma's command line with our stand-in for its engine, as a developer does. */
export function runPrisma(args: string[], ownerUrl: string): Promise<{ code: number | null; output: string }> {
  const command = ['node_modules/prisma/build/index.js', ...args, '--config', 'prisma/prisma.config.mjs'];
  const env = {
    ...process.env,
    CHECKPOINT_DISABLE: '1',
    DATABASE_OWNER_URL: ownerUrl,
    PRISMA_SCHEMA_ENGINE_BINARY: `${ROOT}packages/launcher/src/schema-engine.mjs`,
  };
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, command, { cwd: ROOT, env, stdio: ['ignore', 'pipe', 'pipe'] });
    let output = '';
    const keep = (chunk: Buffer): void => {
      output += chunk.toString('utf8');
    };
    child.stdout.on('data', keep);
    child.stderr.on('data', keep);
    child.once('error', reject);
    child.once('close', (code) => resolve({ code, output }));
  });
}
