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
  readonly size: number;
  readonly from: Float64Array;
  readonly to: Float64Array;
  /** estimate of the error of `to` */
  readonly error: Float64Array;
  /** the stages, for the dense output */
  readonly stages: readonly Float64Array[];
}

export class CircuitStepper {
  /** right-hand sides evaluated so far */
  evaluations = 0;
  private readonly scratch: Evaluation;
  private readonly length: number;

  constructor(
    private readonly circuit: ClampCircuit,
    private readonly isInContact: readonly boolean[],
  ) {
    this.scratch = makeEvaluation(circuit.groups.length);
    this.length = FIRST_GROUP + circuit.groups.length;
  }

  evaluate(state: Float64Array): Evaluation {
    const evaluation = makeEvaluation(this.circuit.groups.length);
    evaluateCircuit(this.circuit, state, this.isInContact, evaluation);
    this.evaluations += 1;
    return evaluation;
  }

  /**
   * (I/(hγ) − J)·k = r. Positions and pumped oil depend on the pressure alone, the pressure on itself and the
   * positions: eliminating them leaves one equation.
   */
  private solve(at: Evaluation, size: number, r: Float64Array): Float64Array {
    const hg = size * GAMMA;
    const k = new Float64Array(this.length);
    let diagonal = 1 / hg - at.pressureByPressure;
    let right = r[PRESSURE] as number;
    for (let index = 0; index < this.circuit.groups.length; index += 1) {
      const byPosition = at.pressureByPosition[index] as number;
      diagonal -= byPosition * hg * (at.speedByPressure[index] as number);
      right += byPosition * hg * (r[FIRST_GROUP + index] as number);
    }
    const pressure = right / diagonal;
    k[PRESSURE] = pressure;
    k[PUMPED] = hg * ((r[PUMPED] as number) + at.pumpedByPressure * pressure);
    for (let index = 0; index < this.circuit.groups.length; index += 1) {
      const slope = at.speedByPressure[index] as number;
      k[FIRST_GROUP + index] = hg * ((r[FIRST_GROUP + index] as number) + slope * pressure);
    }
    return k;
  }

  step(from: Float64Array, at: Evaluation, size: number): Step {
    const stages: Float64Array[] = [];
    let argument = from;
    for (let stage = 0; stage < STAGES; stage += 1) {
      if (stage > 0 && stage < STAGES - 1) argument = this.combine(from, A[stage] as readonly number[], stages);
      else if (stage > 0) argument = this.combine(argument, [0, 0, 0, 0, 1], stages);
      let rates = at.rates;
      if (stage > 0) {
        evaluateCircuit(this.circuit, argument, this.isInContact, this.scratch);
        this.evaluations += 1;
        rates = this.scratch.rates;
      }
      const right = this.combine(rates, C[stage] as readonly number[], stages, 1 / size);
      stages.push(this.solve(at, size, right));
    }
    const error = stages[STAGES - 1] as Float64Array;
    return { size, from, to: this.combine(argument, [0, 0, 0, 0, 0, 1], stages), error, stages };
  }

  /** base + factor · Σ weights · stages */
  private combine(
    base: Float64Array,
    weights: readonly number[],
    stages: readonly Float64Array[],
    factor = 1,
  ): Float64Array {
    const sum = base.slice();
    for (let index = 0; index < weights.length; index += 1) {
      const weight = factor * (weights[index] as number);
      if (weight === 0) continue;
      const stage = stages[index] as Float64Array;
      for (let i = 0; i < sum.length; i += 1) sum[i] = (sum[i] as number) + weight * (stage[i] as number);
    }
    return sum;
  }
}

/** One component at a share of a step, by the method's own interpolation of order 3. */
export function interpolate({ from, to, stages }: Step, component: number, share: number): number {
  const sum = (weights: readonly number[]): number =>
    weights.reduce((total, weight, index) => total + weight * Number(stages[index]?.[component]), 0);
  const rest = 1 - share;
  const bend = sum(D[0]) + share * sum(D[1]);
  return Number(from[component]) * rest + share * (Number(to[component]) + rest * bend);
}
