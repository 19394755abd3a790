import { execFile } from 'node:child_process';
import path from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { promisify } from 'node:util';

const SENDER = path.join(import.meta.dirname, 'send-corners.mjs');
const ASK_EVERY_MS = 10;

/** @param {readonly number[]} sorted */
const at99 = (sorted) => sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * 0.99))] ?? Infinity;

/**
 * How long `/live` takes while people send every calculation at its corners.
 * @param {{ origin: string, cookies: string[], senders: number, seconds: number }} load
 */
export async function measureLive(load) {
  const sending = promisify(execFile)(process.execPath, [SENDER, JSON.stringify(load)]);
  let isSending = true;
  const sent = sending.finally(() => {
    isSending = false;
  });
  /** @type {number[]} */
  const waits = [];
  const watch = async () => {
    while (isSending) {
      const from = performance.now();
      const { status } = await fetch(`${load.origin}/live`);
      if (status !== 200) throw new Error(`/live answered ${status}`);
      waits.push(performance.now() - from);
      await pause(ASK_EVERY_MS);
    }
  };
  const [{ stdout }] = await Promise.all([sent, watch()]);
  const sorted = waits.sort((a, b) => a - b);
  /** @type {Record<string, number>} */
  const statuses = JSON.parse(stdout);
  return { statuses, asked: sorted.length, at99Ms: at99(sorted), longestMs: sorted.at(-1) ?? Infinity };
}
