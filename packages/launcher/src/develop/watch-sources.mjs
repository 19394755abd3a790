import path from 'node:path';
import { startChild } from '../launch/child.mjs';

/** @typedef {(text: string) => void} Tell */

/** A change of one package is followed by those above it: so long it is quiet before the API is started anew. */
const QUIET_MS = 400;
const COMPILE = path.join('packages', 'launcher', 'src', 'develop', 'compile.mjs');

/**
 * Compiles what changes, and starts the API anew once it is written. Pages follow by themselves.
 * @param {object} input
 * @param {() => Promise<void>} input.renewApi
 * @param {Tell} input.tell
 * @returns {{ stop: () => Promise<void>, ended: Promise<string> }}
 */
export function watchSources({ renewApi, tell }) {
  const compiler = startChild({ name: 'the compiler', args: [COMPILE], env: {}, dataDir: null });
  /** @type {NodeJS.Timeout | undefined} */
  let quiet;
  /** @type {Set<string>} */
  const written = new Set();
  const renew = () => {
    tell(`${[...written].join(', ')} changed: the API is started anew`);
    written.clear();
    void renewApi();
  };
  compiler.process.on('message', (message) => {
    if (typeof message !== 'object' || message === null) return;
    if ('isWatching' in message) tell('watching packages and API: what changes is compiled, and the API started anew');
    if (!('written' in message)) return;
    written.add(String(message.written));
    clearTimeout(quiet);
    quiet = setTimeout(renew, QUIET_MS);
  });
  const stop = async () => {
    clearTimeout(quiet);
    await compiler.stop();
  };
  return { stop, ended: compiler.ended };
}
