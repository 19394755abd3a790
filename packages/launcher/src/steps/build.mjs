import fs from 'node:fs';
import path from 'node:path';
import { doOnce, toFingerprint } from '../support/content-stamp.mjs';
import { ROOT } from '../support/paths.mjs';
import { PlainError } from '../support/plain-error.mjs';
import { runTool } from '../support/run.mjs';

/** Everything a build reads. */
const SOURCES = ['apps', 'packages', 'prisma/schema', 'prisma/prisma.config.mjs', 'package-lock.json', 'turbo.json'];
const PRISMA_SOURCES = ['prisma/schema', 'prisma/prisma.config.mjs', 'node_modules/prisma/package.json'];
const GENERATED = 'apps/api/src/platform/db/generated/client.ts';

/**
 * Makes the database client from the schema, without the engine download that Prisma would try.
 * @param {(text: string) => void} tell
 * @returns {Promise<void>}
 */
export async function ensureGenerated(tell) {
  if (!fs.existsSync(path.join(ROOT, 'prisma', 'schema'))) return;
  await doOnce({
    name: 'generate',
    fingerprint: toFingerprint(PRISMA_SOURCES),
    results: [GENERATED],
    work: async () => {
      tell('generating the database client');
      const options = ['generate', '--config', path.join('prisma', 'prisma.config.mjs')];
      const { isOk, output } = await runTool('prisma/build/index.js', options, { env: toPrismaEnvironment() });
      if (!isOk) throw toBuildError('The database client could not be generated', output);
    },
  });
}

/**
 * Any existing file satisfies `prisma generate`; the commands that migrate talk to this one.
 * @returns {NodeJS.ProcessEnv}
 */
export function toPrismaEnvironment() {
  return { PRISMA_SCHEMA_ENGINE_BINARY: path.join(ROOT, 'packages', 'launcher', 'src', 'schema-engine.mjs') };
}

/**
 * Builds everything, or nothing when the sources have not changed.
 * @param {(text: string) => void} tell
 * @returns {Promise<boolean>} whether anything had to be built
 */
export function ensureBuilt(tell) {
  return doOnce({
    name: 'build',
    fingerprint: toFingerprint(SOURCES),
    results: ['apps/api/dist/main.js', 'apps/web/.next/BUILD_ID'],
    work: async () => {
      await ensureGenerated(tell);
      tell('building (about a minute the first time)');
      const { isOk, output } = await build([]);
      if (!isOk) throw toBuildError('The build failed', output);
    },
  });
}

/**
 * Builds all but the pages, which a developer has from their sources.
 * @param {(text: string) => void} tell
 * @returns {Promise<void>}
 */
export async function buildServer(tell) {
  await ensureGenerated(tell);
  tell('building packages and API');
  const { isOk, output } = await build(['--filter=!@repo/web']);
  if (!isOk) throw toBuildError('The build failed', output);
}

/** Builds the packages, which the tests of calculations need. */
export function buildPackages() {
  return build(['--filter=./packages/*']);
}

/** Builds what the demonstration and the tests are type-checked against: the packages, and the API that stands on them. */
export function buildTyped() {
  return build(['--filter=./packages/*', '--filter=@repo/api']);
}

/** @param {string[]} options of turbo */
function build(options) {
  return runTool('turbo/bin/turbo', ['run', 'build', '--output-logs=errors-only', ...options]);
}

/**
 * @param {string} sentence
 * @param {string} output of the tool
 */
function toBuildError(sentence, output) {
  const isDiskFull = /ENOSPC|no space left/i.test(output);
  return new PlainError(
    `${sentence}:\n${output.trim()}`,
    isDiskFull
      ? 'The disk is full: free about 1 GB and run the command again.'
      : 'If files were changed here, mend what is named above; otherwise fetch the latest version and run the command again.',
  );
}
