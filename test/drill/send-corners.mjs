// A process of its own that sends every calculation at its corners, as many at once as it is told: what it costs to write
// and read them is not the service's. Reads `{ origin, cookies, senders, seconds }`, prints how often each status came.
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { describeRegistry } from '@repo/calc';
import { cornersOf } from '@repo/calc/corners';

const CHECKS = path.resolve(import.meta.dirname, '../../packages/calc/test/data/checks.json');

/** @type {{ origin: string, cookies: string[], senders: number, seconds: number }} */
const { origin, cookies, senders, seconds } = JSON.parse(process.argv[2] ?? '');
/** @type {{ rows: { calculation: string, inputs: Record<string, unknown>, expected?: object }[] }} */
const { rows } = JSON.parse(readFileSync(CHECKS, 'utf8'));
const corners = describeRegistry().flatMap(({ id, inputs }) => {
  const samples = rows.filter((row) => row.calculation === id && row.expected).map((row) => row.inputs);
  return [...cornersOf({ inputs }, samples, 6)].map((corner) => ({ id, body: JSON.stringify(corner) }));
});

/** @type {Record<string, number>} */
const statuses = {};
const until = performance.now() + seconds * 1000;
let sent = 0;

/** @param {string} cookie */
async function send(cookie) {
  while (performance.now() < until) {
    sent += 1;
    // Not in a row: those of one calculation would meet in time.
    const { id, body } = corners[(sent * 7919) % corners.length] ?? { id: '', body: '' };
    const headers = { 'content-type': 'application/json', cookie };
    const response = await fetch(`${origin}/api/v1/calculations/${id}`, { method: 'POST', headers, body });
    await response.arrayBuffer();
    const { status } = response;
    statuses[status] = (statuses[status] ?? 0) + 1;
  }
}

await Promise.all(Array.from({ length: senders }, (_, index) => send(cookies[index % cookies.length] ?? '')));
process.stdout.write(JSON.stringify(statuses));
