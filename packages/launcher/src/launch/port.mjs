import { setTimeout as delay } from 'node:timers/promises';
import { findPortProblem } from '../support/free-port.mjs';
import { PlainError } from '../support/plain-error.mjs';

/** What a launcher killed a moment ago had started needs about a second to notice and end. */
const PATIENCE_MS = 3_000;

/**
 * Says early, before a minute of installing and building, that the port cannot be had.
 * @param {{ port: number, host: string }} options
 * @throws {PlainError}
 */
export async function assertPortFree({ port, host }) {
  let problem = await findPortProblem(port, host);
  for (let waitedMs = 0; problem === 'EADDRINUSE' && waitedMs < PATIENCE_MS; waitedMs += 250) {
    await delay(250);
    problem = await findPortProblem(port, host);
  }
  if (problem === null) return;
  const other = `for example "PORT=${port === 65_535 ? port - 1 : port + 1} npm start"`;
  if (problem === 'EADDRINUSE') {
    throw new PlainError(
      `Port ${port} is taken by another program.`,
      `Stop that program, or choose another port, ${other}.`,
    );
  }
  if (problem === 'EACCES') {
    throw new PlainError(
      `Port ${port} needs rights that you do not have.`,
      'Choose a port above 1023, for example "PORT=4800 npm start".',
    );
  }
  throw new PlainError(
    `Cannot listen on ${host}, port ${port} (${problem}).`,
    'Set HOST to an address of this machine, or leave it out.',
  );
}
