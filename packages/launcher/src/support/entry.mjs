import { assertNodeVersion } from '../steps/node-version.mjs';
import { toTerminalText } from './plain-error.mjs';

/** @typedef {(text: string) => void} Tell */

/**
 * Runs the work of an entry file: says progress line by line, an error in plain words, and ends with 1 on an error.
 * @param {(tell: Tell) => Promise<void>} work
 */
export async function runEntry(work) {
  try {
    assertNodeVersion();
    await work((text) => console.log(text));
  } catch (error) {
    console.error(toTerminalText(error));
    process.exitCode = 1;
  }
}
