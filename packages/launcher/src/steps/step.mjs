/**
 * @typedef {object} StepOutcome
 * @property {boolean} isOk
 * @property {string} output shown when the step failed
 * @property {number} seconds
 * @property {readonly string[]} [failures] what failed in it, a line each; left out: all of it
 *
 * @typedef {{ name: string, run: () => Promise<StepOutcome> }} Step
 */

const NAME_WIDTH = 28;

/** @type {{ name: string, seconds: number }[]} every step of this process, in the order in which they ended */
const ended = [];
/** @type {string[]} */
const failures = [];

/**
 * Runs a step and says how it went: one line, and on a failure what the tool wrote.
 * @template {StepOutcome} Outcome
 * @param {{ name: string, run: () => Promise<Outcome> }} step
 * @param {(text: string) => void} tell
 * @returns {Promise<Outcome>}
 */
export async function runStep({ name, run }, tell) {
  const startedAt = performance.now();
  const outcome = await run();
  const seconds = (performance.now() - startedAt) / 1000;
  ended.push({ name, seconds });
  tell(`${outcome.isOk ? 'ok    ' : 'FAILED'} ${toTimeLine(name, seconds)}`);
  if (!outcome.isOk) {
    tell(outcome.output.trimEnd());
    failures.push(...(outcome.failures ?? [name]));
  }
  return outcome;
}

/**
 * Says once more what failed, a line each: what the tools wrote stands far above, and whoever keeps only the end of it still reads which.
 * @param {(text: string) => void} tell
 */
export function tellFailures(tell) {
  if (failures.length === 0) return;
  tell('what failed:');
  for (const failure of failures) tell(`       ${failure}`);
}

/**
 * Runs steps in the order given, so many at a time.
 * @param {Step[]} steps
 * @param {number} atOnce
 * @param {(text: string) => void} tell
 * @returns {Promise<StepOutcome[]>}
 */
export async function runSteps(steps, atOnce, tell) {
  const waiting = [...steps];
  /** @type {StepOutcome[]} */
  const outcomes = [];
  const work = async () => {
    for (let step = waiting.shift(); step !== undefined; step = waiting.shift())
      outcomes.push(await runStep(step, tell));
  };
  await Promise.all(Array.from({ length: atOnce }, work));
  return outcomes;
}

/**
 * Says once more how long each step took, the longest first: steps that ran beside each other are each counted whole.
 * @param {(text: string) => void} tell
 */
export function tellSeconds(tell) {
  tell(`seconds of each step, of ${(performance.now() / 1000).toFixed(1)} s in all:`);
  for (const { name, seconds } of ended.toSorted((one, other) => other.seconds - one.seconds)) {
    tell(`       ${toTimeLine(name, seconds)}`);
  }
}

/**
 * @param {string} name
 * @param {number} seconds
 */
function toTimeLine(name, seconds) {
  return `${name.padEnd(NAME_WIDTH)} ${seconds.toFixed(1).padStart(6)} s`;
}
