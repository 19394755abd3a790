// A thread that calculates what it is sent: its owner ends it when it takes too long.
import { parentPort } from 'node:worker_threads';
import { calculate } from '../dist/index.js';
import { loadSolver } from '../dist/holding/load-solver.js';

const owner = parentPort;
if (owner === null) throw new Error('this file runs in a thread');
const solver = await loadSolver();
owner.on('message', ({ id, inputs }) => {
  const from = performance.now();
  const { problem } = calculate(id, inputs, { solver });
  owner.postMessage({ tookMs: performance.now() - from, problem: problem?.code ?? null });
});
owner.postMessage('ready');
