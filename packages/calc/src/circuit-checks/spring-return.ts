import { evaluateCircuit, FIRST_GROUP, makeEvaluation, type ClampCircuit } from '../filling/clamp-circuit.js';
import { sumOf } from './figures.js';

/**
 * Time until springs have pushed everything back, where no oil drives anything: each phase ends when the next of them is home. While a strong one
 * moves, the loss of the line may hold a weak one, which goes on when there is less of it. [s]; `never`: one does not move at all.
 * With the highest speed of each group [m/s].
 * @param circuit its groups have no area that drives; what pushes them is friction below zero
 */
export function followSprings(circuit: ClampCircuit): { timeS: number | 'never'; peakSpeeds: readonly number[] } {
  const { groups } = circuit;
  const isHome = groups.map(({ strokeM }) => strokeM === 0);
  const state = new Float64Array(FIRST_GROUP + groups.length);
  const at = makeEvaluation(groups.length);
  const peakSpeeds = groups.map(() => 0);
  let timeS = 0;
  while (isHome.includes(false)) {
    evaluateCircuit(circuit, state, isHome, at);
    const leftS = groups.map(({ strokeM }, index) => {
      const speed = at.rates[FIRST_GROUP + index] as number;
      peakSpeeds[index] = Math.max(peakSpeeds[index] as number, speed);
      return isHome[index] || speed <= 0 ? Infinity : (strokeM - (state[FIRST_GROUP + index] as number)) / speed;
    });
    const phaseS = Math.min(...leftS);
    if (phaseS === Infinity) return { timeS: 'never', peakSpeeds };
    timeS += phaseS;
    for (const [index, ownS] of leftS.entries()) {
      const way = phaseS * (at.rates[FIRST_GROUP + index] as number);
      state[FIRST_GROUP + index] = (state[FIRST_GROUP + index] as number) + way;
      if (ownS === phaseS) isHome[index] = true;
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
