/**
 * @typedef {object} StepOutcome
 * @property {boolean} isOk
 * @property {string} output shown when the step failed
 * @property {number} seconds
 *
 * @typedef {{ name: string, run: () => Promise<StepOutcome> }} Step
 */

const NAME_WIDTH = 28;

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
  const seconds = ((performance.now() - startedAt) / 1000).toFixed(1);
  tell(`${outcome.isOk ? 'ok    ' : 'FAILED'} ${name.padEnd(NAME_WIDTH)} ${seconds.padStart(6)} s`);
  if (!outcome.isOk) tell(outcome.output.trimEnd());
  return outcome;
}

/**
 * Runs steps two at a time, in the order given: two cores are what a small build machine has.
 * @param {Step[]} steps
 * @param {(text: string) => void} tell
 * @returns {Promise<StepOutcome[]>}
 */
export async function runStepsInPairs(steps, tell) {
  const waiting = [...steps];
  /** @type {StepOutcome[]} */
  const outcomes = [];
  const work = async () => {
    for (let step = waiting.shift(); step !== undefined; step = waiting.shift())
      outcomes.push(await runStep(step, tell));
  };
  await Promise.all([work(), work()]);
  return outcomes;
}
