// A thread that calculates what it is sent: its owner ends it when it takes too long.
import { parentPort } from 'node:worker_threads';
import { calculate } from '../dist/index.js';
import { loadSolver } from '../dist/holding/load-solver.js';

const owner = parentPort;
if (owner === null) throw new Error('this file runs in a thread');
const solver = await loadSolver();
owner.on('message', ({ id, inputs }) => {
  const [from, usedBefore] = [performance.now(), process.cpuUsage()];
  const { problem } = calculate(id, inputs, { solver });
  const { user, system } = process.cpuUsage(usedBefore);
  // What it waited for while the machine did something else is not its own.
  const tookMs = Math.min(performance.now() - from, (user + system) / 1000);
  owner.postMessage({ tookMs, problem: problem?.code ?? null });
});
owner.postMessage('ready');
