// A thread that calculates what it is sent: its owner ends it when it takes too long.
import { parentPort } from 'node:worker_threads';
import { calculate } from '../dist/index.js';
import { loadSolver } from '../dist/holding/load-solver.js';

const solver = await loadSolver();
parentPort.on('message', ({ id, inputs }) => {
  const from = performance.now();
  const { problem } = calculate(id, inputs, { solver });
  parentPort.postMessage({ tookMs: performance.now() - from, problem: problem?.code ?? null });
});
parentPort.postMessage('ready');
