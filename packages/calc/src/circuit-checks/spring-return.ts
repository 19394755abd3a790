import {
  evaluateCircuit,
  FIRST_GROUP,
  makeEvaluation,
  PRESSURE,
  type ClampCircuit,
  type Evaluation,
} from '../filling/clamp-circuit.js';
import { sumOf } from './figures.js';

/** Rounds in which the pressure of a phase is found; between them it comes closer by Newton's rule, or half way. */
const ROUNDS = 40;
const NEARLY = 1e-9;

/** The pressure at which all that the pump gives is taken by what moves: a phase comes to it from below, and never above. */
function findSteady(circuit: ClampCircuit, state: Float64Array, isHome: readonly boolean[], at: Evaluation): void {
  let [low, high] = [0, circuit.stallPressurePa];
  let pressurePa = 0;
  for (let round = 0; round < ROUNDS; round += 1) {
    state[PRESSURE] = pressurePa;
    evaluateCircuit(circuit, state, isHome, at);
    const rate = at.rates[PRESSURE] as number;
    if (rate > 0) low = pressurePa;
    else high = pressurePa;
    if (high - low <= NEARLY * circuit.stallPressurePa || rate === 0) return;
    const next = pressurePa - rate / at.pressureByPressure;
    pressurePa = next > low && next < high ? next : (low + high) / 2;
  }
}

/**
 * Time until everything has moved, phase by phase, each as it steadies: it ends when the next one arrives. While a strong spring moves, the loss
 * of the line may hold a weak one, which goes on when there is less of it. [s]; `never`: one does not move at all. With the highest speed of
 * each group [m/s].
 * @param circuit whose line behind holds nothing
 */
export function followPhases(circuit: ClampCircuit): { timeS: number | 'never'; peakSpeeds: readonly number[] } {
  const { groups } = circuit;
  const isHome = groups.map(({ strokeM }) => strokeM === 0);
  const state = new Float64Array(FIRST_GROUP + groups.length);
  const at = makeEvaluation(groups.length);
  const peakSpeeds = groups.map(() => 0);
  const isDriven = groups.some(({ pistonM2 }) => pistonM2 > 0);
  let timeS = 0;
  while (isHome.includes(false)) {
    if (isDriven) findSteady(circuit, state, isHome, at);
    else evaluateCircuit(circuit, state, isHome, at);
    const leftS = groups.map(({ strokeM }, index) => {
      const speed = at.rates[FIRST_GROUP + index] as number;
      if (isHome[index] || speed <= 0) return Infinity;
      peakSpeeds[index] = Math.max(peakSpeeds[index] as number, speed);
      return (strokeM - (state[FIRST_GROUP + index] as number)) / speed;
    });
    const phaseS = Math.min(...leftS);
    if (phaseS === Infinity) return { timeS: 'never', peakSpeeds };
    timeS += phaseS;
    for (const [index, aloneS] of leftS.entries()) {
      if (aloneS === Infinity) continue;
      const way = phaseS * (at.rates[FIRST_GROUP + index] as number);
      state[FIRST_GROUP + index] = (state[FIRST_GROUP + index] as number) + way;
      if (aloneS === phaseS) isHome[index] = true;
    }
  }
  return { timeS, peakSpeeds };
}

/** A group of cylinders that springs push back, as records that kept their inputs took it. */
interface FormerGroup {
  count: number;
  areaM2: number;
  strokeM: number;
  springForceN: number;
  viscousFrictionNsPerM: number;
}

/** What stands before springs that push everything back: loss for each flow, pressure behind it, most flow that is let out. */
interface FormerReturn {
  resistance: number;
  returnPressurePa: number;
  limitM3PerS: number;
}

/** As it was reckoned for records that kept inputs instead of facts: springs alone in the line, all at once, their friction taken off already. */
export function toFormerSpringReturn(groups: readonly FormerGroup[], at: FormerReturn): number | 'never' {
  const { resistance, returnPressurePa, limitM3PerS } = at;
  const push = sumOf(groups, ({ count, areaM2, springForceN, viscousFrictionNsPerM }) => {
    return (count * areaM2 * (springForceN - returnPressurePa * areaM2)) / viscousFrictionNsPerM;
  });
  const hold = sumOf(groups, ({ count, areaM2, viscousFrictionNsPerM }) => (count * areaM2 ** 2) / viscousFrictionNsPerM); // prettier-ignore
  // All move together: the return is loaded most, and nobody is faster than that.
  const loss = Math.max(0, (resistance * push) / (1 + resistance * hold), (push - limitM3PerS) / hold);
  return groups.reduce<number | 'never'>((last, { areaM2, strokeM, springForceN, viscousFrictionNsPerM }) => {
    const force = springForceN - (returnPressurePa + loss) * areaM2;
    if (last === 'never' || (force <= 0 && strokeM > 0)) return 'never';
    return strokeM === 0 ? last : Math.max(last, (strokeM * viscousFrictionNsPerM) / force);
  }, 0);
}
