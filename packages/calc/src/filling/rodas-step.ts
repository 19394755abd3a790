import {
  evaluateCircuit,
  FIRST_GROUP,
  makeEvaluation,
  sizeOf,
  PRESSURE,
  PUMPED,
  type ClampCircuit,
  type Evaluation,
} from './clamp-circuit.js';

/**
 * One step of RODAS, a stiffly accurate Rosenbrock method of order 4 with an embedded one of order 3 and a dense output.
 * Source of the coefficients: Hairer & Wanner, Solving Ordinary Differential Equations II, 2nd ed. 1996, section IV.10.
 */
const GAMMA = 0.25;
const A = [
  [],
  [1.544],
  [0.9466785280815826, 0.2557011698983284],
  [3.314825187068521, 2.896124015972201, 0.9986419139977817],
  [1.221224509226641, 6.019134481288629, 12.53708332932087, -0.687886036105895],
] as const;
const C = [
  [],
  [-5.6688],
  [-2.430093356833875, -0.2063599157091915],
  [-0.1073529058151375, -9.594562251023355, -20.47028614809616],
  [7.496443313967647, -10.24680431464352, -33.99990352819905, 11.7089089320616],
  [8.083246795921522, -7.981132988064893, -31.52159432874371, 16.31930543123136, -6.058818238834054],
] as const;
const D = [
  [10.12623508344586, -7.487995877610167, -34.80091861555747, -7.992771707568823, 1.025137723295662],
  [-0.6762803392801253, 6.087714651680015, 16.43084320892478, 24.76722511418386, -6.594389125716872],
] as const;
const STAGES = 6;

export interface Step {
  size: number;
  readonly from: Float64Array;
  readonly to: Float64Array;
  /** the stages, for the dense output; the last one is the estimate of the error of `to` */
  readonly stages: readonly Float64Array[];
}

const at = (values: Float64Array, index: number): number => values[index] as number;

export class CircuitStepper {
  /** right-hand sides evaluated so far */
  evaluations = 0;
  private readonly scratch: Evaluation;
  private readonly argument: Float64Array;
  private readonly right: Float64Array;
  private readonly length: number;
  private readonly used: Step[] = [];

  constructor(
    private readonly circuit: ClampCircuit,
    private readonly isInContact: readonly boolean[],
  ) {
    this.scratch = makeEvaluation(circuit.groups.length);
    this.length = sizeOf(circuit);
    this.argument = new Float64Array(this.length);
    this.right = new Float64Array(this.length);
  }

  evaluate(state: Float64Array, into: Evaluation): Evaluation {
    evaluateCircuit(this.circuit, state, this.isInContact, into);
    this.evaluations += 1;
    return into;
  }

  /** A step that nobody looks at any more: the next ones are made in its place. */
  drop(step: Step): void {
    this.used.push(step);
  }

  private makeStep(): Step {
    const make = (): Float64Array => new Float64Array(this.length);
    return { size: 0, from: make(), to: make(), stages: Array.from({ length: STAGES }, make) };
  }

  /**
   * (I/(hγ) − J)·k = r. Positions and pumped oil depend on the pressures alone, each pressure on both and on the
   * positions: eliminating these leaves one equation, or two where the line behind holds something.
   */
  private solve(state: Evaluation, size: number, r: Float64Array, k: Float64Array): void {
    const hg = size * GAMMA;
    const groups = this.circuit.groups.length;
    let diagonal = 1 / hg - state.pressureByPressure;
    let right = at(r, PRESSURE);
    for (let index = 0; index < groups; index += 1) {
      const byPosition = at(state.pressureByPosition, index);
      diagonal -= byPosition * hg * at(state.speedByPressure, index);
      right += byPosition * hg * at(r, FIRST_GROUP + index);
    }
    const last = FIRST_GROUP + groups;
    const isHeld = last < this.length;
    if (isHeld) this.solveBoth(state, { hg, diagonal, right }, r, k);
    else k[PRESSURE] = right / diagonal;
    const pressure = at(k, PRESSURE);
    k[PUMPED] = hg * (at(r, PUMPED) + state.pumpedByPressure * pressure);
    for (let index = 0; index < groups; index += 1) {
      const byPressure = at(state.speedByPressure, index) * pressure;
      const moved = isHeld ? byPressure + at(state.speedByBehind, index) * at(k, last) : byPressure;
      k[FIRST_GROUP + index] = hg * (at(r, FIRST_GROUP + index) + moved);
    }
  }

  /** Both pressures, of the equation of the one before without that behind, and of the other. */
  private solveBoth(
    state: Evaluation,
    { hg, diagonal, right }: { hg: number; diagonal: number; right: number },
    r: Float64Array,
    k: Float64Array,
  ): void {
    const groups = this.circuit.groups.length;
    let across = state.pressureByBehind;
    let lower = 1 / hg - state.behindByBehind;
    let below = state.behindByPressure;
    let behindRight = at(r, FIRST_GROUP + groups);
    for (let index = 0; index < groups; index += 1) {
      const byBehind = hg * at(state.speedByBehind, index);
      const byPosition = at(state.behindByPosition, index);
      across += at(state.pressureByPosition, index) * byBehind;
      lower -= byPosition * byBehind;
      below += byPosition * hg * at(state.speedByPressure, index);
      behindRight += byPosition * hg * at(r, FIRST_GROUP + index);
    }
    const determinant = diagonal * lower - across * below;
    k[PRESSURE] = (right * lower + across * behindRight) / determinant;
    k[FIRST_GROUP + groups] = (diagonal * behindRight + below * right) / determinant;
  }

  step(from: Float64Array, start: Evaluation, size: number): Step {
    const step = this.used.pop() ?? this.makeStep();
    step.size = size;
    step.from.set(from);
    const { argument } = this;
    const { stages } = step;
    this.solveStage(0, start, start, step);
    for (let stage = 1; stage < STAGES; stage += 1) {
      // The last two begin where the one before them ended.
      if (stage < STAGES - 1) this.sumUp(argument, from, A[stage] as readonly number[], stages);
      else this.addTo(argument, stages[STAGES - 2] as Float64Array);
      this.solveStage(stage, start, this.evaluate(argument, this.scratch), step);
    }
    step.to.set(argument);
    this.addTo(step.to, stages[STAGES - 1] as Float64Array);
    return step;
  }

  private solveStage(stage: number, start: Evaluation, { rates }: Evaluation, step: Step): void {
    const { right, length } = this;
    const weights = C[stage] as readonly number[];
    const perStep = 1 / step.size;
    for (let i = 0; i < length; i += 1) {
      let sum = rates[i] as number;
      for (let index = 0; index < weights.length; index += 1) {
        sum += perStep * (weights[index] as number) * ((step.stages[index] as Float64Array)[i] as number);
      }
      right[i] = sum;
    }
    this.solve(start, step.size, right, step.stages[stage] as Float64Array);
  }

  /** sum = from + Σ weights · stages */
  private sumUp(
    sum: Float64Array,
    from: Float64Array,
    weights: readonly number[],
    stages: readonly Float64Array[],
  ): void {
    for (let i = 0; i < this.length; i += 1) {
      let value = from[i] as number;
      for (let index = 0; index < weights.length; index += 1) {
        value += (weights[index] as number) * ((stages[index] as Float64Array)[i] as number);
      }
      sum[i] = value;
    }
  }

  private addTo(sum: Float64Array, more: Float64Array): void {
    for (let i = 0; i < this.length; i += 1) sum[i] = (sum[i] as number) + (more[i] as number);
  }
}

/** One component at a share of a step, by the method's lower interpolation of order 3. */
export function interpolate({ from, to, stages }: Step, component: number, share: number): number {
  let [straight, curved] = [0, 0];
  for (let index = 0; index < D[0].length; index += 1) {
    const stage = at(stages[index] as Float64Array, component);
    straight += (D[0][index] as number) * stage;
    curved += (D[1][index] as number) * stage;
  }
  const rest = 1 - share;
  const bend = straight + share * curved;
  return at(from, component) * rest + share * (at(to, component) + rest * bend);
}
