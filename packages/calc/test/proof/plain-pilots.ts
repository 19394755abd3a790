import type { CircuitFacts } from '../../src/index.js';
import { figure, gaugeError, opposingAreas, settingOf } from './plain-pressures.js';
import { reliefOfTrapped } from './plain-reliefs.js';
import { isIn, shutsIn, warmUp } from './plain-shut-in.js';
import { add, compare, known, stands, times } from './plain-verdict.js';
import type { Verdict } from './plain-verdict.js';

/** A piloted check valve: what is shut in over its ratio against the lowest that opens it. */
export function pilots(facts: CircuitFacts, isUnpiloted: boolean): Verdict[] {
  const fitted = facts.components.filter(({ kind, place }) => kind === 'check-valve' && place === 'circuit');
  const ratios = fitted.filter((one) => isIn(one, 'clamp')).map((one) => figure(one, 'pilotRatio'));
  const isOnTheWay = fitted.some(
    ({ lineFunctions: lines }) => lines.length === 0 || lines.includes('supply') || lines.includes('clamp'),
  );
  if (!isOnTheWay && facts.circuit.isCheckHeld !== false) ratios.push(null);
  if (isUnpiloted) return [];
  // What opens it presses upon cylinders that pull too.
  const { atLeast: areas, isComplete } = opposingAreas(facts);
  const ofAreas = ratios.map((ratio): Verdict => {
    if (ratio === null) return stands(isComplete && areas < 1 ? 'holds' : 'unproven', 'pilot against areas');
    if (areas > ratio) return stands('fails', 'pilot against areas');
    return stands(isComplete ? 'holds' : 'unproven', 'pilot against areas');
  });
  const { returnPressurePa } = facts.circuit;
  const { settingPa, tolerancePa, lowest } = settingOf(facts);
  const set = add(settingPa, known(tolerancePa));
  const [shut, rise, relief] = [shutsIn(facts), warmUp(facts), reliefOfTrapped(facts)];
  const warm = Math.min(known(set) + known(rise), relief.pa ?? Infinity);
  const isCold = shut === false || rise === 0;
  const ofPressures = ratios
    .filter((ratio) => !isCold || ratio !== null)
    .map((ratio) => {
      // Of a ratio that nobody has said no more is known than that it is one at the least.
      const share = ratio === null ? 1 : 1 / ratio;
      const behind = times(returnPressurePa, ratio === null ? 1 : 1 - share);
      const at = (pa: number | null, isRiseKnown: boolean) =>
        compare({
          ...{ part: 'pilot', demand: add(times(pa, share), known(behind)), capacity: lowest },
          ...{ tolerances: [], gauge: gaugeError(facts), gaugeOn: 'demand', asked: facts.marginsAsked.unclamping },
          isIncomplete: !isRiseKnown || behind === null,
        });
      const isRiseKnown = rise !== null || relief.pa !== null;
      const most = isCold ? set : set === null || !isRiseKnown ? null : Math.max(set, warm);
      const [atCold, atMost] = [at(set, true), at(most, most !== null)];
      if (ratio === null) return atMost.status === 'holds' ? atMost : stands('unproven', 'pilot');
      if (atCold.status === 'fails') return atCold;
      const isSure = isCold || (shut === true && rise !== null && !relief.isUnknown) || atMost.status === 'holds';
      return isSure ? atMost : stands('unproven', 'pilot');
    });
  return [...ofAreas, ...ofPressures];
}
