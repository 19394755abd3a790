import {
  FIRST_GROUP,
  makeEvaluation,
  PRESSURE,
  PUMPED,
  sizeOf,
  toNextKink,
  type ClampCircuit,
  type Evaluation,
} from './clamp-circuit.js';
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
  /** error of one step, as a share of what moves [1] */
  tolerance?: number;
}

const TOLERANCE = 1e-7;
/** Absolute error of a pressure at the least, as a share of the highest times the tolerance; of what is followed coarsely. */
const PRESSURE_SCALE = 1e-2;
const COARSE_PRESSURE_SCALE = 1e-1;
/** Steps, and steps times groups: a circuit takes a few hundred, one of two hundred unlike groups three thousand. */
const MOST_STEPS = 50_000;
const MOST_WORK = 1_500_000;
const LEAST_SHARE = 1e-14;
/** How close to the end of its stroke a step ends that ends at an arrival, as a share of it. */
const EXACTLY_THERE = 1e-12;
const NEARLY_THERE = 1e-8;
/** A step towards a bend of the equations ends so many times as far, and is no smaller than such a share of what it would be otherwise. */
const PAST_KINK = 1.1;
const LEAST_TO_KINK = 1e-3;

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

/** A run under way: where it stands, and what has been seen of it. */
class Follower {
  readonly contactsS: (number | null)[];
  readonly times = [0];
  readonly pressures: number[];
  readonly positions: number[][];
  readonly tracks: Track[] = [];
  readonly state: Float64Array;
  readonly stepper: CircuitStepper;
  timeS = 0;
  size: number;
  private readonly isInContact: boolean[];
  private readonly isCoarse: boolean;
  private readonly scales: Float64Array;
  private readonly at: Evaluation;
  private readonly met: Evaluation;

  constructor(
    private readonly circuit: ClampCircuit,
    private readonly marks: readonly PressureMark[],
    { startPressurePa, maximumTimeS }: { startPressurePa: number; maximumTimeS: number },
    private readonly options: Required<Omit<RunOptions, 'mostSteps'>>,
  ) {
    const { groups, stallPressurePa } = circuit;
    this.isInContact = groups.map(({ strokeM }) => strokeM === 0);
    this.contactsS = groups.map(({ strokeM }) => (strokeM === 0 ? 0 : null));
    this.stepper = new CircuitStepper(circuit, this.isInContact);
    const volume = groups.reduce(
      (sum, group) => sum + group.count * group.pistonM2 * group.strokeM,
      circuit.lineVolumeM3,
    );
    const { behind } = circuit;
    this.isCoarse = options.tolerance > TOLERANCE;
    const ofPressure =
      Math.max(stallPressurePa, startPressurePa) * (this.isCoarse ? COARSE_PRESSURE_SCALE : PRESSURE_SCALE);
    this.scales = Float64Array.from([
      ofPressure,
      volume * 1e-2,
      ...groups.map(({ strokeM }) => strokeM * 1e-1),
      ...(behind === undefined ? [] : [ofPressure]),
    ]);
    this.state = new Float64Array(sizeOf(circuit));
    this.state[PRESSURE] = startPressurePa;
    if (behind !== undefined) this.state[FIRST_GROUP + groups.length] = behind.startPa;
    this.pressures = [startPressurePa];
    this.positions = groups.map(() => [0]);
    this.at = this.stepper.evaluate(this.state, makeEvaluation(groups.length));
    this.met = makeEvaluation(groups.length);
    this.size = Math.min(maximumTimeS, this.toFreshSize());
  }

  isDone(): boolean {
    return this.contactsS.every((contact) => contact !== null) && this.marks.every((mark) => mark.timeS !== null);
  }

  /** One step further, or the next one smaller; false: no step is small enough. */
  advance(): boolean {
    if (this.isCoarse) this.size = this.toSizeBeforeKink(this.size);
    const trial = this.stepper.step(this.state, this.at, this.size);
    const error = this.toError(trial);
    if (!(error <= 1)) {
      this.stepper.drop(trial);
      this.size *= Number.isFinite(error) ? Math.max(0.1, 0.9 * error ** -0.25) : 0.1;
      return this.timeS + this.size > this.timeS;
    }
    const arrival = this.findArrival(trial);
    const step = arrival ? arrival.step : trial;
    this.findMarks(step);
    this.take(step, arrival?.index ?? null);
    const growth = Math.min(5, 0.9 * Math.max(error, 1e-8) ** -0.25);
    // After an arrival the pressure turns sharply: start again with a small step rather than be refused several times.
    this.size = arrival ? Math.min(this.size, 0.1 * this.toFreshSize()) : this.size * growth;
    return true;
  }

  pumpedAt(moment: number): number {
    const track = this.tracks.find(({ timeS: from, step }) => moment <= from + step.size);
    if (!track) return this.state[PUMPED] as number;
    return interpolate(track.step, PUMPED, Math.max(0, (moment - track.timeS) / track.step.size));
  }

  /** A step that goes past where the equations bend is refused again and again: it ends just behind that place. */
  private toSizeBeforeKink(size: number): number {
    const kinkS = toNextKink(this.circuit, this.state, this.isInContact, this.at) * PAST_KINK;
    return kinkS < size ? Math.max(kinkS, LEAST_TO_KINK * size) : size;
  }

  /** In which a pressure moves by its scale. */
  private toFreshSize(): number {
    const { rates } = this.at;
    const behind =
      this.circuit.behind === undefined ? 0 : Math.abs(rates[FIRST_GROUP + this.circuit.groups.length] as number);
    const fastest = Math.max(1e-300, behind, Math.abs(rates[PRESSURE] as number));
    return (this.scales[PRESSURE] as number) / fastest;
  }

  private toError(step: Step): number {
    let sum = 0;
    const error = step.stages[step.stages.length - 1] as Float64Array;
    for (let i = 0; i < error.length; i += 1) {
      // A stage that left the range of the gas law shows here; the step is then taken much smaller.
      if (!Number.isFinite(step.to[i] as number)) return Infinity;
      const scale = Math.max(
        Math.abs(step.from[i] as number),
        Math.abs(step.to[i] as number),
        this.scales[i] as number,
      );
      if (scale > 0) sum += ((error[i] as number) / (this.options.tolerance * scale)) ** 2;
    }
    return Math.sqrt(sum / error.length);
  }

  /** The group that arrives first within a step, and a step that ends at its arrival. */
  private findArrival(step: Step): { index: number; step: Step } | null {
    let first: { index: number; share: number } | null = null;
    this.circuit.groups.forEach(({ strokeM }, index) => {
      if (this.isInContact[index] || (step.to[FIRST_GROUP + index] as number) < strokeM) return;
      const share = findShare(step, FIRST_GROUP + index, strokeM);
      if (!first || share < first.share) first = { index, share };
    });
    if (!first) return null;
    const { index, share } = first as { index: number; share: number };
    const { strokeM } = this.circuit.groups[index] as ClampCircuit['groups'][number];
    let shortened = this.stepper.step(step.from, this.at, Math.max(step.size * share, LEAST_SHARE * step.size));
    for (let count = 0; count < 8; count += 1) {
      const missing = strokeM - (shortened.to[FIRST_GROUP + index] as number);
      if (Math.abs(missing) <= (this.isCoarse ? NEARLY_THERE : EXACTLY_THERE) * strokeM) break;
      const speed = this.stepper.evaluate(shortened.to, this.met).rates[FIRST_GROUP + index] as number;
      // The whole step has arrived, so the size sought is no larger; a speed near zero must not throw it out.
      const next = Math.min(step.size, Math.max(LEAST_SHARE * step.size, shortened.size + missing / speed));
      this.stepper.drop(shortened);
      shortened = this.stepper.step(step.from, this.at, next);
    }
    this.stepper.drop(step);
    return { index, step: shortened };
  }

  private findMarks(step: Step): void {
    for (const mark of this.marks) {
      if (mark.timeS !== null) continue;
      const [before, after] = [step.from[PRESSURE] as number, step.to[PRESSURE] as number];
      if (before < mark.pressurePa && after >= mark.pressurePa) {
        mark.timeS = this.timeS + this.findMoment(step, mark.pressurePa);
      }
    }
  }

  /** When within a step a pressure is reached [s]: by the interpolation; of long steps, which it bends too little, by a step that ends there. */
  private findMoment(step: Step, pressurePa: number): number {
    const size = step.size * findShare(step, PRESSURE, pressurePa);
    if (!this.isCoarse) return size;
    const ending = this.stepper.step(step.from, this.at, size);
    const rate = this.stepper.evaluate(ending.to, this.met).rates[PRESSURE] as number;
    const missing = pressurePa - (ending.to[PRESSURE] as number);
    this.stepper.drop(ending);
    return Math.min(step.size, Math.max(0, size + missing / Math.max(rate, Number.MIN_VALUE)));
  }

  /** Goes to the end of a step, where a group may have arrived. */
  private take(step: Step, arrived: number | null): void {
    const { state } = this;
    if (this.options.isTracked) this.tracks.push({ timeS: this.timeS, step });
    this.timeS += step.size;
    state.set(step.to);
    if (!this.options.isTracked) this.stepper.drop(step);
    if (arrived !== null) {
      state[FIRST_GROUP + arrived] = (this.circuit.groups[arrived] as ClampCircuit['groups'][number]).strokeM;
      this.isInContact[arrived] = true;
      this.contactsS[arrived] = this.timeS;
    }
    this.times.push(this.timeS);
    this.pressures.push(state[PRESSURE] as number);
    this.positions.forEach((track, index) => track.push(state[FIRST_GROUP + index] as number));
    this.stepper.evaluate(state, this.at);
  }
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
  { mostSteps = MOST_STEPS, isTracked = true, tolerance = TOLERANCE }: RunOptions = {},
): CircuitRun | null {
  const run = new Follower(circuit, marks, { startPressurePa, maximumTimeS }, { isTracked, tolerance });
  const mostAttempts = Math.min(mostSteps, MOST_WORK / circuit.groups.length);
  for (let count = 0; run.timeS < maximumTimeS && !run.isDone(); count += 1) {
    if (count >= mostAttempts) return null;
    run.size = Math.min(run.size, maximumTimeS - run.timeS);
    if (!run.advance()) return null;
  }
  const { contactsS, times, pressures, positions, stepper } = run;
  return {
    contactsS,
    pumpedAt: (timeS) => run.pumpedAt(timeS),
    times,
    pressures,
    positions,
    evaluations: stepper.evaluations,
  };
}
