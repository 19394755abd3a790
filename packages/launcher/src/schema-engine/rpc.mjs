import fs from 'node:fs';
import { createRequire } from 'node:module';
import path from 'node:path';
import readline from 'node:readline';
import { bindMigrationAwareSqlAdapterFactory } from '@prisma/driver-adapter-utils';
import { errorCode } from '../support/plain-error.mjs';
import { dropShadows, toAdapterFactory } from './adapter.mjs';

/** Methods that the wasm build names otherwise than the native engine. */
const METHOD_NAMES = new Map([['getDatabaseVersion', 'version']]);
/** JSON-RPC error code by which Prisma's command line knows an error of the engine. */
const ENGINE_ERROR = 4466;

/** @typedef {Record<string, (params: unknown) => Promise<Record<string, unknown> | undefined>>} Engine */
/** @typedef {{ id: number, method: string, params: unknown }} Request */

/**
 * Answers requests, one JSON document a line, until standard input ends.
 * @param {import('./command-line.mjs').EngineCommand} command
 */
export function serve(command) {
  /** @type {Promise<Engine> | undefined} */
  let engine;
  let lastPrintId = 1000;
  /** @param {Request} request */
  const answer = async ({ id, method, params }) => {
    try {
      engine ??= createEngine(command);
      const name = METHOD_NAMES.get(method) ?? method;
      const call = (await engine)[name];
      if (call === undefined) throw new Error(`the engine knows no method ${method}`);
      const { stdout, ...result } = (await call.call(await engine, params)) ?? {};
      if (typeof stdout === 'string' && name === 'diff') {
        lastPrintId += 1;
        send({ method: 'print', params: { content: stdout }, id: lastPrintId });
        send({ id, result });
      } else {
        send({ id, result: stdout === undefined ? result : { stdout, ...result } });
      }
    } catch (error) {
      send({ id, error: toRpcError(error) });
    }
  };

  let queue = Promise.resolve();
  const lines = readline.createInterface({ input: process.stdin });
  lines.on('line', (line) => {
    if (line.trim() === '') return;
    const message = JSON.parse(line);
    // A line without a method is the answer to something we printed.
    if (message.method !== undefined) queue = queue.then(() => answer(message));
  });
  const end = async () => {
    await queue;
    await dropShadows();
    process.exit(0);
  };
  lines.on('close', end);
  // Prisma's command line ends its engine as soon as it has the answer, while a shadow database may still be there.
  process.on('SIGTERM', end);
}

/**
 * @param {import('./command-line.mjs').EngineCommand} command
 * @returns {Promise<Engine>}
 */
async function createEngine({ url, schemaFiles }) {
  // Where the wasm build puts the message of a panic before it traps.
  Object.assign(globalThis, {
    PRISMA_WASM_PANIC_REGISTRY: {
      /** @param {string} message */
      set_message: (message) => process.stderr.write(`${message}\n`),
    },
  });
  const require = createRequire(import.meta.url);
  const glue = await import('@prisma/schema-engine-wasm/schema_engine_bg');
  const folder = path.dirname(require.resolve('@prisma/schema-engine-wasm/schema_engine_bg'));
  const wasm = fs.readFileSync(path.join(folder, 'schema_engine_bg.wasm'));
  const { instance } = await WebAssembly.instantiate(wasm, { './schema_engine_bg.js': glue });
  glue.__wbg_set_wasm(instance.exports);
  /** @type {{ __wbindgen_start: () => void }} */ (/** @type {unknown} */ (instance.exports)).__wbindgen_start();
  /** @type {[string, string][]} */
  const datamodels = schemaFiles.map((file) => [file, fs.readFileSync(file, 'utf8')]);
  const factory = bindMigrationAwareSqlAdapterFactory(toAdapterFactory(url));
  const options = { datamodels: datamodels.length > 0 ? datamodels : undefined };
  const engine = await glue.SchemaEngine.new(options, () => undefined, factory);
  return /** @type {Engine} */ (/** @type {unknown} */ (engine));
}

/** @param {unknown} error */
function toRpcError(error) {
  const message = error instanceof Error ? error.message : String(error);
  const meta = typeof error === 'object' && error !== null && 'meta' in error ? error.meta : null;
  const data = { is_panic: false, message, meta, error_code: errorCode(error) === '' ? null : errorCode(error) };
  return { code: ENGINE_ERROR, message: 'An error happened. Check the data field for details.', data };
}

/** @param {object} message */
function send(message) {
  process.stdout.write(`${JSON.stringify({ jsonrpc: '2.0', ...message })}\n`);
}
