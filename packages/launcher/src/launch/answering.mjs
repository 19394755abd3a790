import http from 'node:http';
import https from 'node:https';
import { setTimeout as delay } from 'node:timers/promises';

const PATIENCE_MS = 60_000;
const PAUSE_MS = 100;

/**
 * Waits until a page answers.
 * @param {string} url
 * @param {(status: number) => boolean} isGood
 * @param {() => boolean} isOver gives up early
 * @returns {Promise<string | null>} null when it answers well, else why not
 */
export async function waitForAnswer(url, isGood, isOver) {
  let problem = 'it did not answer';
  for (const startedAt = Date.now(); Date.now() - startedAt < PATIENCE_MS && !isOver(); await delay(PAUSE_MS)) {
    const answer = await getStatus(url);
    if (typeof answer === 'number' && isGood(answer)) return null;
    problem = typeof answer === 'number' ? `it answered ${answer}` : answer;
  }
  return problem;
}

/**
 * @param {string} url
 * @returns {Promise<number | string>} HTTP status, or what went wrong
 */
function getStatus(url) {
  const isSecure = url.startsWith('https:');
  // Our own certificate, on our own machine: it names the host people use, not the loopback address asked here.
  const options = isSecure ? { rejectUnauthorized: false } : {};
  return new Promise((resolve) => {
    const request = (isSecure ? https : http).get(url, { ...options, timeout: 10_000 }, (response) => {
      response.resume();
      resolve(response.statusCode ?? 0);
    });
    request.once('timeout', () => request.destroy(new Error('it took more than 10 s')));
    request.once('error', (error) => resolve(error.message));
  });
}
