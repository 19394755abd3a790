import {
  evaluateCircuit,
  FIRST_GROUP,
  makeEvaluation,
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
    this.length = FIRST_GROUP + circuit.groups.length;
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
   * (I/(hγ) − J)·k = r. Positions and pumped oil depend on the pressure alone, the pressure on itself and the
   * positions: eliminating them leaves one equation.
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
    const pressure = right / diagonal;
    k[PRESSURE] = pressure;
    k[PUMPED] = hg * (at(r, PUMPED) + state.pumpedByPressure * pressure);
    for (let index = 0; index < groups; index += 1) {
      const slope = at(state.speedByPressure, index);
      k[FIRST_GROUP + index] = hg * (at(r, FIRST_GROUP + index) + slope * pressure);
    }
  }

  step(from: Float64Array, start: Evaluation, size: number): Step {
    const step = this.used.pop() ?? this.makeStep();
    step.size = size;
    step.from.set(from);
    const { argument, right } = this;
    argument.set(from);
    for (let stage = 0; stage < STAGES; stage += 1) {
      if (stage > 0 && stage < STAGES - 1) {
        argument.set(from);
        this.add(argument, A[stage] as readonly number[], step.stages, 1);
      } else if (stage > 0) this.add(argument, [0, 0, 0, 0, 1], step.stages, 1);
      if (stage > 0) this.evaluate(argument, this.scratch);
      right.set((stage > 0 ? this.scratch : start).rates);
      this.add(right, C[stage] as readonly number[], step.stages, 1 / size);
      this.solve(start, size, right, step.stages[stage] as Float64Array);
    }
    step.to.set(argument);
    this.add(step.to, [0, 0, 0, 0, 0, 1], step.stages, 1);
    return step;
  }

  /** sum += factor · Σ weights · stages */
  private add(sum: Float64Array, weights: readonly number[], stages: readonly Float64Array[], factor: number): void {
    for (let index = 0; index < weights.length; index += 1) {
      const weight = factor * (weights[index] as number);
      if (weight === 0) continue;
      const stage = stages[index] as Float64Array;
      for (let i = 0; i < sum.length; i += 1) sum[i] = at(sum, i) + weight * at(stage, i);
    }
  }
}

/** One component at a share of a step, by the method's own interpolation of order 3. */
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
