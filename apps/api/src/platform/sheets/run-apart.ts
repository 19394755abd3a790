import { fork, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { fileURLToPath } from 'node:url';
import type { ApartAnswer, ApartQuestion } from './apart.js';
import { LIMITS, UnreadableFile } from './sheet-model.js';

const APART = fileURLToPath(new URL('./apart.js', import.meta.url));
const READ_FILE = new URL('./read-file.js', import.meta.url);

/** Memory and time that a file may take. */
interface Budget {
  readonly heapMb: number;
  readonly seconds: number;
}

const MIB = 1_048_576;
/** What reading a file of no size may take, and each MiB more: several times what lists that people keep take on a busy machine. */
const AT_LEAST: Budget = { heapMb: 256, seconds: 20 };
const EACH_MIB: Budget = { heapMb: 512, seconds: 20 };

/**
 * What a file of so many bytes may take: a few thousand of them can name millions of cells, and would keep the place of everybody's short
 * jobs for minutes.
 */
export const budgetOf = (bytes: number): Budget => ({
  heapMb: Math.round(Math.min(LIMITS.heapMb, AT_LEAST.heapMb + (bytes / MIB) * EACH_MIB.heapMb)),
  seconds: Math.min(LIMITS.seconds, AT_LEAST.seconds + (bytes / MIB) * EACH_MIB.seconds),
});

/** How a process ends that wants more than it may have, or more than there is. */
const OUT_OF_MEMORY: ReadonlySet<NodeJS.Signals | null> = new Set(['SIGABRT', 'SIGTRAP', 'SIGILL', 'SIGKILL']);

/** Nothing of the service's surroundings is handed on, secrets least of all. */
const begin = (heapMb: number): ChildProcess =>
  fork(APART, [], {
    serialization: 'advanced',
    execArgv: [`--max-old-space-size=${heapMb}`],
    env: {},
    stdio: ['ignore', 'ignore', 'ignore', 'ipc'],
  });

function ask(child: ChildProcess, question: ApartQuestion, seconds: number): Promise<ApartAnswer> {
  let timer: NodeJS.Timeout | undefined;
  return new Promise<ApartAnswer>((resolve, reject) => {
    child.once('message', resolve);
    child.once('error', reject);
    child.once('exit', (code, signal) =>
      reject(
        OUT_OF_MEMORY.has(signal)
          ? new UnreadableFile('too-much-memory')
          : new Error(`Reading a file ended without an answer: ${signal ?? code}`),
      ),
    );
    timer = setTimeout(() => reject(new UnreadableFile('took-too-long')), seconds * 1000);
    // What cannot be sent any more is told by how the process ended.
    child.send(question, () => undefined);
  }).finally(() => clearTimeout(timer));
}

/**
 * Runs the default export of a file in a process of its own with bounded memory and time: for what a whole file of somebody's takes. A
 * thread would not do: one string or list that does not fit into the rest of its memory ends the process, and the service with it.
 * @throws UnreadableFile
 */
export async function runApart<R>(work: URL, data: unknown, { heapMb, seconds }: Budget = LIMITS): Promise<R> {
  const child = begin(heapMb);
  try {
    const answer = await ask(child, { work: work.href, data }, seconds);
    if ('problem' in answer) throw new UnreadableFile(answer.problem.code, answer.problem.params);
    if ('error' in answer) throw new Error(answer.error);
    return answer.result as R;
  } finally {
    if (child.exitCode === null && child.signalCode === null) {
      child.kill('SIGKILL');
      await once(child, 'exit');
    }
  }
}

/**
 * Reads a CSV or XLSX file.
 * @returns the file, packed as `unpackSheets` takes it
 * @throws UnreadableFile
 */
export const readApart = (bytes: Uint8Array, name: string): Promise<Uint8Array> =>
  runApart(READ_FILE, { bytes, name }, budgetOf(bytes.length));
