#!/usr/bin/env node
// npm run --silent calc -- ID < input.json · --lines < lines.ndjson · --list
import { createInterface } from 'node:readline';
import { once } from 'node:events';
import { buildIfMissing } from './build-if-missing.mjs';

const USAGE = 'usage: calc ID < input.json | calc --lines < lines | calc --list\n';

/** @typedef {{ field: string, got: unknown, needs: string, code: string }} Problem */
/** @typedef {{ result?: unknown, problem?: Problem | undefined }} Answer */
/** @typedef {{ run: (id: unknown, inputs: unknown) => Promise<Answer> }} Calculator */

/**
 * @param {NodeJS.WriteStream} stream
 * @param {string} text
 */
async function write(stream, text) {
  if (!stream.write(text)) await once(stream, 'drain');
}

/**
 * @param {NodeJS.ReadStream} stream
 * @returns {Promise<string>}
 */
async function readAll(stream) {
  stream.setEncoding('utf8');
  let text = '';
  for await (const chunk of stream) text += chunk;
  return text;
}

/** @param {string} text */
function toGot(text) {
  return text.length > 200 ? `${text.slice(0, 200)}…` : text;
}

/**
 * @param {string} text
 * @param {string} needs
 * @returns {Answer}
 */
const notJson = (text, needs) => ({ problem: { field: '', got: toGot(text), needs, code: 'not-json' } });

async function load() {
  buildIfMissing();
  const calc = await import('../dist/index.js');
  const { loadSolver } = await import('../dist/holding/load-solver.js');
  /** @type {ReturnType<typeof loadSolver> | undefined} */
  let loading;
  return {
    calc,
    /** @type {Calculator['run']} */
    async run(id, inputs) {
      if (calc.findCalculation(String(id))?.needsSolver) loading ??= loadSolver();
      const solver = await loading;
      const { result, problem } = calc.calculate(String(id), inputs, solver === undefined ? {} : { solver });
      return problem ? { problem } : { result };
    },
  };
}

/** @param {Calculator} calculator */
async function runLines({ run }) {
  for await (const line of createInterface({ input: process.stdin, crlfDelay: Infinity })) {
    if (line.trim() === '') continue;
    /** @type {Answer} */
    let answer;
    try {
      const request = JSON.parse(line);
      answer =
        typeof request === 'object' && request !== null && !Array.isArray(request)
          ? await run(request.id, request.inputs)
          : notJson(line, 'an object { "id", "inputs" } on each line');
    } catch (error) {
      if (!(error instanceof SyntaxError)) throw error;
      answer = notJson(line, 'one JSON object { "id", "inputs" } on each line');
    }
    await write(process.stdout, `${JSON.stringify(answer.result ?? answer)}\n`);
  }
  return 0;
}

/**
 * @param {Calculator} calculator
 * @param {string} id
 */
async function runOne({ run }, id) {
  const text = await readAll(process.stdin);
  /** @type {Answer} */
  let answer;
  try {
    answer = await run(id, JSON.parse(text));
  } catch (error) {
    if (!(error instanceof SyntaxError)) throw error;
    answer = notJson(text, 'one JSON object of named inputs on standard input');
  }
  if (answer.problem) await write(process.stderr, `${JSON.stringify(answer)}\n`);
  else await write(process.stdout, `${JSON.stringify(answer.result)}\n`);
  return answer.problem ? 1 : 0;
}

const [command, ...rest] = process.argv.slice(2);
// A reader that has seen enough (head) closes the pipe: that is no failure of ours.
process.stdout.on('error', (/** @type {NodeJS.ErrnoException} */ error) =>
  process.exit(error.code === 'EPIPE' ? 0 : 2),
);
if (command === undefined || rest.length > 0 || command === '--help') {
  await write(command === '--help' ? process.stdout : process.stderr, USAGE);
  process.exitCode = command === '--help' ? 0 : 2;
} else if (command === '--list') {
  const { calc } = await load();
  await write(process.stdout, `${JSON.stringify(calc.describeRegistry(), null, 2)}\n`);
} else {
  const calculator = await load();
  process.exitCode = command === '--lines' ? await runLines(calculator) : await runOne(calculator, command);
}
