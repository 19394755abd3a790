/** Checks of pressure, worked out by hand a second time: 1, 2, 3, 4, 9 and 10. Sources: reference formulas `switch-window`, `pressure-chain`, `rod-side-intensification`. */
import type { CircuitFacts } from '../../src/index.js';
import { padLimits } from './plain-pads.js';
import { burstRate, decayRate, figure, fittedOf, gaugeError, settingGauges, stallAt } from './plain-pressures.js';
import { ofSwitches, ratings, readingsInForce, requiredPressure, resetOf, settingOf } from './plain-pressures.js';
import { oilTemperatures, viscosityAt } from './plain-pressures.js';
import { holdsSource, lowestFullFlow, reliefsOf } from './plain-reliefs.js';
import { isReduced, shutsIn } from './plain-shut-in.js';
import { warmUp } from './plain-shut-in.js';
import { seesClamps } from './plain-senses.js';
import { add, compare, known, stands, times, worst } from './plain-verdict.js';
import type { Verdict } from './plain-verdict.js';

/** Whether what the switch says is about the clamps at all. */
export function blindness(facts: CircuitFacts): Verdict[] {
  const sees = seesClamps(facts);
  if (sees === true) return [];
  return [stands(sees === null ? 'unproven' : 'fails', 'the switch does not see the clamps')];
}

/** By how much more computed operations may require: of the one that is widest; what nobody knows is wider than any. */
export function requiredSpreads({ operations }: CircuitFacts): readonly (number | null)[] {
  const width = (spreads: readonly (number | null)[]) => spreads.reduce<number>((sum, pa) => sum + (pa ?? Infinity), 0);
  const all = operations.map(({ specificForceSpreadPa, frictionSpreadPa }) =>
    [specificForceSpreadPa, frictionSpreadPa].filter((pa) => pa !== undefined),
  );
  return all.sort((a, b) => width(b) - width(a))[0] ?? [];
}

export const isUnheld = ({ operations }: CircuitFacts) => operations.some(({ unheldCase }) => unheldCase !== undefined);

/** 1: reset - accuracy >= required + leak * (switch delay + control reaction). Leak at a constant rate: `leak-down`. */
export function holdsWorkpiece(facts: CircuitFacts): Verdict {
  const required = requiredPressure(facts);
  const accuracy = ofSwitches(facts, 'accuracy');
  const reaction = add(ofSwitches(facts, 'delay'), facts.control.machine.controlReactionS);
  const setPoint = facts.settings.inUse?.setPointPa ?? null;
  const reset = resetOf(facts);
  const after = (part: string, loss: number | null) =>
    compare({
      part,
      demand: required.atLeast + known(loss),
      capacity: add(reset, -known(accuracy)),
      tolerances: [accuracy],
      spreads: requiredSpreads(facts),
      gauge: gaugeError(facts),
      gaugeOn: 'capacity',
      asked: facts.marginsAsked['holds-workpiece'],
      isIncomplete: !required.isComplete || loss === null || setPoint === null,
    });
  const [burst, mayBurst] = [burstRate(facts, ['yes']), burstRate(facts, ['maybe'])];
  const unheld = isUnheld(facts);
  const unburst = after('reset point', times(decayRate(facts), reaction));
  const ifBurst = mayBurst === 'not typed' ? null : after('burst hose', times(mayBurst, reaction));
  return worst([
    unburst,
    // A hose whose flow nobody has typed is told of beside the check.
    ...(burst === 'not typed' ? [] : [after('burst hose', times(burst, reaction))]),
    ...(ifBurst === null ? [] : [ifBurst.status === unburst.status ? ifBurst : stands('unproven', 'burst hose')]),
    ...blindness(facts),
    ...(unheld ? [stands('fails', 'no pressure holds it')] : []),
  ]);
}

/** 2: set point + accuracy <= lowest of the setting. A starved pump has no tolerance of its setting in it. */
export function noNuisanceStop(facts: CircuitFacts): Verdict {
  const setting = settingOf(facts);
  const accuracy = ofSwitches(facts, 'accuracy');
  const low = setting.settingPa === null ? null : setting.settingPa - known(setting.tolerancePa);
  const atMost = [low, setting.stallLowPa].filter((pa) => pa !== null);
  // Each that bounds it is as likely as its own errors say; what the pump lifts to was read on no gauge.
  const common = [known(accuracy), known(gaugeError(facts))];
  const bounds: [number | null, readonly number[]][] = [
    [setting.settingPa, [...common, known(setting.tolerancePa)]],
    [setting.stallLowPa, common],
  ];
  return compare({
    part: 'set point',
    others: bounds.flatMap(([pa, errors]) => (pa === null ? [] : [{ capacity: pa + known(accuracy), errors }])),
    demand: add(facts.settings.inUse?.setPointPa ?? null, known(accuracy)),
    capacity: low === null && setting.stallLowPa === null ? null : Math.min(...atMost),
    tolerances: setting.isStarved ? [accuracy] : [accuracy, setting.tolerancePa],
    gauge: gaugeError(facts),
    asked: facts.marginsAsked['no-nuisance-stop'],
    isIncomplete: setting.lowest === null,
  });
}

export type Line = CircuitFacts['components'][number]['lineFunctions'][number];
/** Against the weakest of what sees pressure. */
export function againstRatings(
  facts: CircuitFacts,
  which: 'setting-within-rating' | 'highest-within-rating',
  part: {
    name: string;
    demand: number | null;
    tolerances: (number | null)[];
    gauge: number | null;
    on?: readonly Line[];
  },
): Verdict {
  const list = ratings(facts).filter(
    ({ lines }) => part.on === undefined || lines.some((line) => part.on?.includes(line)),
  );
  const rated = list.map(({ ratedPa }) => ratedPa).filter((pa) => pa !== null);
  return compare({
    part: part.name,
    demand: part.demand,
    capacity: rated.length === 0 ? null : Math.min(...rated),
    tolerances: part.tolerances,
    gauge: part.gauge,
    asked: facts.marginsAsked[which],
    isIncomplete: rated.length < list.length || facts.fixture === null,
  });
}

/** 3: setting + tolerance <= weakest rating. */
export function settingWithinRating(facts: CircuitFacts): Verdict {
  const { settingPa, tolerancePa } = settingOf(facts);
  const ofRating = againstRatings(facts, 'setting-within-rating', {
    name: 'setting',
    demand: add(settingPa, known(tolerancePa)),
    tolerances: [tolerancePa],
    gauge: gaugeError(facts),
  });
  const { drive } = facts.powerUnit;
  if (drive !== 'air' || isReduced(facts) || settingPa === null) return ofRating;
  // An air-driven pump stops where it stalls, or where a relief lets all of its flow out.
  const reliefs = reliefsOf(facts).filter(
    (one) =>
      holdsSource(facts, one) && figure(one, 'openingPressure') !== null && figure(one, 'fullFlowPressure') !== null,
  );
  const stall = stallAt(facts, facts.settings.inUse?.airPressurePa ?? null);
  const most =
    stall ?? times(figure(fittedOf(facts, 'pump'), 'pistonRatio'), facts.settings.inUse?.airPressurePa ?? null);
  const reached = Math.min(most ?? Infinity, lowestFullFlow(reliefs) ?? Infinity);
  const kept = 1.05 * settingPa;
  if (reached <= kept) return ofRating;
  if (stall === null) return worst([ofRating, stands('unproven', 'the pump goes on')]);
  const goesOn = { part: 'the pump goes on', demand: reached, capacity: kept, tolerances: [], gauge: 0, asked: 0 };
  return worst([ofRating, compare(goesOn)]);
}

/** 9: setting + tolerance + warm-up of shut-in oil within what the workpiece allows; and a window at all. */
export function workpieceLimit(facts: CircuitFacts): Verdict {
  const limited = facts.operations.filter(({ workpieceNotLimiting }) => !workpieceNotLimiting);
  const pads = padLimits(facts);
  if (facts.operations.length === 0) return stands('unproven', 'workpiece');
  const locators = facts.operations.flatMap(({ locatorLimitPa: pa }) => (pa === undefined ? [] : [pa]));
  if (limited.length === 0 && pads.length === 0 && locators.length === 0) return stands('not-applicable', 'workpiece');
  if (isUnheld(facts)) return stands('fails', 'no pressure holds it');
  const { settingPa, tolerancePa } = settingOf(facts);
  const shut = shutsIn(facts);
  const rise = shut === false ? 0 : warmUp(facts);
  const all = [
    ...limited.map(({ workpieceLimitPa }) => ({ part: 'workpiece', allowed: workpieceLimitPa })),
    ...pads.map((allowed) => ({ part: 'pad', allowed })),
    ...locators.map((allowed) => ({ part: 'locator', allowed })),
  ];
  const { atLeast: required, isComplete } = requiredPressure(facts);
  const parts = all.flatMap(({ part, allowed }) => {
    const at = (warm: number | null) =>
      compare({
        part,
        demand: add(settingPa, known(tolerancePa) + known(warm)),
        capacity: allowed,
        tolerances: [tolerancePa],
        gauge: gaugeError(facts),
        asked: facts.marginsAsked['workpiece-limit'],
        isIncomplete: warm === null,
      });
    // Whether it is shut in at all nobody has said: then between cold and warm.
    const [cold, warm] = [at(0), at(rise)];
    const isSure = shut !== null || cold.status === warm.status || cold.status === 'fails';
    const ofSetting = shut === null && cold.status === 'fails' ? cold : isSure ? warm : stands('unproven', part);
    return [ofSetting, ...(allowed !== null && required > allowed ? [stands('fails', 'no window')] : [])];
  });
  return worst([...parts, ...(isComplete ? [] : [stands('unproven', 'window')])]);
}

/**
 * What is left of a pressure that lines kept up with oil as it was read, in oil as thin as at work: loss goes with viscosity (Hagen-Poiseuille), and
 * an air-driven pump gives less the nearer it comes to ratio times air; null: not known.
 */
function leftAtWork(facts: CircuitFacts, readPa: number): number | null {
  const { airPressurePa, oilTemperatureK } = facts.settings.readings ?? {};
  const { cold, working } = oilTemperatures(facts);
  const at = oilTemperatureK ?? cold;
  if (at === null || working === null) return null;
  if (at >= working) return readPa;
  const [thick, thin] = [viscosityAt(facts, at), viscosityAt(facts, working)];
  if (thick === null || thin === null || !(thin <= thick)) return null;
  if (facts.powerUnit.drive !== 'air') return (readPa * thin) / thick;
  const stall = times(figure(fittedOf(facts, 'pump'), 'pistonRatio'), airPressurePa ?? null);
  if (stall === null) return null;
  if (readPa > stall) return readPa;
  // p / (stall - p) of each is as the viscosities.
  const each = (readPa * thin) / thick;
  return (stall * each) / (stall - readPa + each);
}

/** 10: what the circuit falls to before the pump starts again, and while a neighbour clamps, is above reset + accuracy. It never has more than
 *  its own lowest: a restart that is set above the setting is no pressure that is ever there. */
export function sharedSupply(facts: CircuitFacts): Verdict {
  const { inUse } = facts.settings;
  const accuracy = ofSwitches(facts, 'accuracy');
  const setting = settingOf(facts);
  const low = setting.low ?? setting.settingPa;
  const ceiling = Math.min(low ?? Infinity, setting.stallLowPa ?? Infinity);
  const common = {
    demand: add(inUse?.resetPointPa ?? null, known(accuracy)),
    asked: facts.marginsAsked['shared-supply'],
    gauge: gaugeError(facts),
    isIncomplete: setting.lowest === null,
  };
  const ofCeiling = setting.isStarved ? 0 : setting.tolerancePa;
  const part = (name: string, reached: number | null, tolerance: number | null) => {
    // Each that bounds it is as likely as its own errors say.
    const bounds: [number | null, number | null][] = [
      [add(reached, known(tolerance)), tolerance],
      [setting.settingPa, setting.tolerancePa],
      [setting.stallLowPa, 0],
    ];
    return compare({
      ...{ ...common, part: name, capacity: reached === null ? null : Math.min(reached, ceiling) },
      tolerances: [accuracy, reached !== null && ceiling < reached ? ofCeiling : tolerance],
      others: bounds.flatMap(([pa, half]) =>
        pa === null
          ? []
          : [{ capacity: pa + known(accuracy), errors: [known(accuracy), known(common.gauge), known(half)] }],
      ),
    });
  };
  // Of a restart whose tolerance nobody knows it is not known how low it lies.
  const tolerance = inUse?.pumpRestartTolerancePa ?? null;
  const restart = add(inUse?.pumpRestartPa ?? null, tolerance === null ? null : -tolerance);
  const parts = [part('pump restart', restart, inUse?.pumpRestartTolerancePa ?? null)];
  const { readings, isAsLeft } = facts.settings;
  const isReadOnOther = readings !== null && !isAsLeft && settingGauges(facts).length > 0;
  const percent = add(readings?.gaugeClass ?? null, 0.04 * known(facts.powerUnit.gaugeOffReferenceK));
  const ofReading = times(times(percent, 0.01), readings?.gaugeSpanPa ?? null);
  for (const { isFixtureAsRead } of facts.neighbours) {
    // Read with another fixture over there, it says nothing of this one.
    const read = readingsInForce(facts);
    const { drive, plantAirLowPa } = facts.powerUnit;
    // At some flow the pressure goes with the stall, and the stall with the air.
    const share = drive === 'air' && plantAirLowPa !== null && read?.airPressurePa ? Math.min(1, plantAirLowPa / read.airPressurePa) : 1; // prettier-ignore
    const lowest = isFixtureAsRead === false ? null : times(read?.lowestWhileSharedPa ?? null, share);
    // What another gauge sets than it was read on has the errors of both.
    const error = isReadOnOther ? ofReading : 0;
    const atMost = add(lowest, -known(error));
    const asRead = part('neighbour clamps', atMost, error);
    const readPa = read?.lowestWhileSharedPa ?? null;
    const left = lowest === null || readPa === null ? readPa : leftAtWork(facts, readPa);
    // Read with colder oil it is somewhere between what was read and what thinner oil leaves of it, less what the gauge may have told too much.
    const less = left === null || readPa === null || ofReading === null ? null : leftAtWork(facts, readPa - ofReading);
    const worstLeft =
      left === null || less === null ? 0 : Math.max(0, Math.min(share * left, share * less + known(ofReading)));
    const isAsWarm = left === readPa && left !== null;
    const atWork = isAsWarm || lowest === null ? asRead : part('neighbour clamps', worstLeft - known(error), error);
    const isSure = (isAsWarm || lowest === null || atWork.status === 'holds') && error !== null;
    // How likely it is nobody knows without the gauge's error, nor of oil that was colder.
    const isExact = (isAsWarm || lowest === null) && error !== null;
    const isBroken = asRead.status === 'fails' && (isExact || known(asRead.margin) < 0);
    parts.push(isBroken ? asRead : isSure ? atWork : stands('unproven', atWork.part));
  }
  return worst(parts);
}
