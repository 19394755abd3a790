import { FIRST_GROUP, makeEvaluation, PRESSURE, PUMPED, type ClampCircuit } from './clamp-circuit.js';
import { CircuitStepper, interpolate, type Step } from './rodas-step.js';

/** A pressure whose crossing is asked for; `watch` ends when it has been seen. */
export interface PressureMark {
  readonly pressurePa: number;
  /** time of the first upward crossing [s]; null: not seen */
  timeS: number | null;
}

export interface CircuitRun {
  /** per group [s]; null: not reached */
  contactsS: (number | null)[];
  /** oil pumped at a time within the run [m3] */
  pumpedAt: (timeS: number) => number;
  times: number[];
  pressures: number[];
  positions: number[][];
  evaluations: number;
}

interface RunOptions {
  mostSteps?: number;
  /** false: nobody asks for the oil pumped at a time within the run */
  isTracked?: boolean;
}

const TOLERANCE = 1e-7;
/** Steps, and steps times groups: a circuit takes a few hundred, one of two hundred unlike groups three thousand. */
const MOST_STEPS = 50_000;
const MOST_WORK = 1_500_000;
const LEAST_SHARE = 1e-14;

interface Track {
  timeS: number;
  step: Step;
}

/** Share of a step at which a component reaches a value, by bisection on the interpolation. */
function findShare(step: Step, component: number, value: number): number {
  let [low, high] = [0, 1];
  for (let count = 0; count < 60; count += 1) {
    const middle = (low + high) / 2;
    if (interpolate(step, component, middle) < value) low = middle;
    else high = middle;
  }
  return high;
}

/**
 * Follows a circuit until every group is in contact and every mark is passed, or until a time. Error-controlled steps;
 * a group's arrival, where the equations change, is met exactly by a step that ends there. Null: such a circuit cannot
 * be followed within so many steps.
 */
export function runCircuit(
  circuit: ClampCircuit,
  startPressurePa: number,
  maximumTimeS: number,
  marks: readonly PressureMark[],
  { mostSteps = MOST_STEPS, isTracked = true }: RunOptions = {},
): CircuitRun | null {
  const { groups, stallPressurePa } = circuit;
  const isInContact = groups.map(({ strokeM }) => strokeM === 0);
  const contactsS: (number | null)[] = groups.map(({ strokeM }) => (strokeM === 0 ? 0 : null));
  const stepper = new CircuitStepper(circuit, isInContact);
  const volume = groups.reduce(
    (sum, group) => sum + group.count * group.pistonM2 * group.strokeM,
    circuit.lineVolumeM3,
  );
  const scales = Float64Array.from([
    Math.max(stallPressurePa, startPressurePa) * 1e-2,
    volume * 1e-2,
    ...groups.map(({ strokeM }) => strokeM * 1e-1),
  ]);
  const state = new Float64Array(FIRST_GROUP + groups.length);
  state[PRESSURE] = startPressurePa;
  let timeS = 0;
  const tracks: Track[] = [];
  const times = [0];
  const pressures = [startPressurePa];
  const positions = groups.map(() => [0]);
  const at = stepper.evaluate(state, makeEvaluation(groups.length));
  const met = makeEvaluation(groups.length);
  let size = Math.min(
    maximumTimeS,
    (scales[PRESSURE] as number) / Math.max(1e-300, Math.abs(at.rates[PRESSURE] as number)),
  );

  const toError = (step: Step): number => {
    let sum = 0;
    const error = step.stages[step.stages.length - 1] as Float64Array;
    for (let i = 0; i < error.length; i += 1) {
      // A stage that left the range of the gas law shows here; the step is then taken much smaller.
      if (!Number.isFinite(step.to[i] as number)) return Infinity;
      const scale = Math.max(Math.abs(step.from[i] as number), Math.abs(step.to[i] as number), scales[i] as number);
      if (scale > 0) sum += ((error[i] as number) / (TOLERANCE * scale)) ** 2;
    }
    return Math.sqrt(sum / error.length);
  };

  /** The group that arrives first within a step, and a step that ends at its arrival. */
  const findArrival = (step: Step): { index: number; step: Step } | null => {
    let first: { index: number; share: number } | null = null;
    groups.forEach(({ strokeM }, index) => {
      if (isInContact[index] || (step.to[FIRST_GROUP + index] as number) < strokeM) return;
      const share = findShare(step, FIRST_GROUP + index, strokeM);
      if (!first || share < first.share) first = { index, share };
    });
    if (!first) return null;
    const { index, share } = first as { index: number; share: number };
    const strokeM = (groups[index] as (typeof groups)[number]).strokeM;
    let shortened = stepper.step(step.from, at, Math.max(step.size * share, LEAST_SHARE * step.size));
    for (let count = 0; count < 8; count += 1) {
      const missing = strokeM - (shortened.to[FIRST_GROUP + index] as number);
      if (Math.abs(missing) <= 1e-12 * strokeM) break;
      const speed = stepper.evaluate(shortened.to, met).rates[FIRST_GROUP + index] as number;
      // The whole step has arrived, so the size sought is no larger; a speed near zero must not throw it out.
      const next = Math.min(step.size, Math.max(LEAST_SHARE * step.size, shortened.size + missing / speed));
      stepper.drop(shortened);
      shortened = stepper.step(step.from, at, next);
    }
    stepper.drop(step);
    return { index, step: shortened };
  };

  const findMarks = (step: Step): void => {
    for (const mark of marks) {
      if (mark.timeS !== null) continue;
      const [before, after] = [step.from[PRESSURE] as number, step.to[PRESSURE] as number];
      if (before < mark.pressurePa && after >= mark.pressurePa) {
        mark.timeS = timeS + step.size * findShare(step, PRESSURE, mark.pressurePa);
      }
    }
  };

  const isDone = (): boolean =>
    contactsS.every((contact) => contact !== null) && marks.every((mark) => mark.timeS !== null);

  const mostAttempts = Math.min(mostSteps, MOST_WORK / groups.length);
  for (let count = 0; timeS < maximumTimeS && !isDone(); count += 1) {
    if (count >= mostAttempts) return null;
    size = Math.min(size, maximumTimeS - timeS);
    const trial = stepper.step(state, at, size);
    const error = toError(trial);
    if (!(error <= 1)) {
      stepper.drop(trial);
      size *= Number.isFinite(error) ? Math.max(0.1, 0.9 * error ** -0.25) : 0.1;
      if (timeS + size <= timeS) return null;
      continue;
    }
    const arrival = findArrival(trial);
    const step = arrival ? arrival.step : trial;
    findMarks(step);
    if (isTracked) tracks.push({ timeS, step });
    timeS += step.size;
    state.set(step.to);
    if (!isTracked) stepper.drop(step);
    if (arrival) {
      state[FIRST_GROUP + arrival.index] = (groups[arrival.index] as (typeof groups)[number]).strokeM;
      isInContact[arrival.index] = true;
      contactsS[arrival.index] = timeS;
    }
    times.push(timeS);
    pressures.push(state[PRESSURE] as number);
    positions.forEach((track, index) => track.push(state[FIRST_GROUP + index] as number));
    stepper.evaluate(state, at);
    const growth = Math.min(5, 0.9 * Math.max(error, 1e-8) ** -0.25);
    // After an arrival the pressure turns sharply: start again with a small step rather than be refused several times.
    const fresh = (scales[PRESSURE] as number) / Math.max(1e-300, Math.abs(at.rates[PRESSURE] as number));
    size = arrival ? Math.min(size, 0.1 * fresh) : size * growth;
  }

  const pumpedAt = (moment: number): number => {
    const track = tracks.find(({ timeS: from, step }) => moment <= from + step.size);
    if (!track) return state[PUMPED] as number;
    return interpolate(track.step, PUMPED, Math.max(0, (moment - track.timeS) / track.step.size));
  };
  return { contactsS, pumpedAt, times, pressures, positions, evaluations: stepper.evaluations };
}
