/** Checks of pressure, worked out by hand a second time: 1, 2, 3, 4, 9 and 10. Sources: reference formulas `switch-window`, `pressure-chain`, `rod-side-intensification`. */
import type { CircuitFacts } from '../../src/index.js';
import { padLimits } from './plain-pads.js';
import {
  burstRate,
  decayRate,
  figure,
  fittedOf,
  gaugeError,
  highestOfSource,
  pullsAsSaid,
  stallAt,
} from './plain-pressures.js';
import { ofSwitches, ratings, readingsInForce, requiredPressure, resetOf, settingOf } from './plain-pressures.js';
import { oilTemperatures, opposingAreas, ratedInReturn, viscosityAt } from './plain-pressures.js';
import { holdsSource, lowestFullFlow, reliefBeyond, reliefOfTrapped, reliefsOf } from './plain-reliefs.js';
import { clampLineCanBlock, isIn, isReduced, shutsIn, unclampLineCanBlock } from './plain-shut-in.js';
import { unclampLineCanTrap, warmUp, warmUpOfUnclamp } from './plain-shut-in.js';
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
  const burst = burstRate(facts);
  const unheld = isUnheld(facts);
  return worst([
    after('reset point', times(decayRate(facts), reaction)),
    // A hose whose flow nobody has typed is told of beside the check.
    ...(burst === 'not typed' ? [] : [after('burst hose', times(burst, reaction))]),
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

/** Against the weakest of what sees pressure. */
function againstRatings(
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

const area = (boreM: number | null, rodM: number | null): number | null =>
  boreM === null || rodM === null ? null : (Math.PI / 4) * (boreM ** 2 - rodM ** 2);

type BlockedLine = 'clamp' | 'unclamp';
type Line = CircuitFacts['components'][number]['lineFunctions'][number];
/**
 * Greatest ratio of areas, the side that is pressed upon over the side that is shut in, of what acts both ways (`rod-side-intensification`).
 * A swing clamp has its rod on the clamp line, what pushes on the unclamp line, what nobody has described on either. null: nothing is there.
 */
function greatestAreaRatio(facts: CircuitFacts, line: BlockedLine): { atLeast: number; isComplete: boolean } | null {
  const ofElements = (facts.fixture?.elements ?? [])
    .filter(({ kind, acting }) => kind !== 'locator' && acting === 'double')
    .map((element) => {
      const { kind, boreM, rodM } = element;
      const pulls = pullsAsSaid(element);
      const rodOn = kind === 'support' ? 'unclamp' : pulls === null ? line : pulls ? 'clamp' : 'unclamp';
      return { boreM, rodM, rodOn };
    });
  const ofComponents = facts.components
    .filter((component) => component.kind.endsWith('clamp') && isIn(component, 'unclamp'))
    .map((component) => ({
      ...{ boreM: figure(component, 'bore'), rodM: figure(component, 'rod') },
      rodOn: component.kind === 'swing-clamp' ? 'clamp' : 'unclamp',
    }));
  const all = [...ofElements, ...ofComponents];
  if (all.length === 0) return null;
  const ratios = all.map(({ boreM, rodM, rodOn }) => {
    const [piston, annulus] = [area(boreM, 0), area(boreM, rodM)];
    if (piston === null || annulus === null) return { known: 1, isComplete: rodOn !== line };
    return { known: rodOn === line ? piston / annulus : annulus / piston, isComplete: true };
  });
  return {
    atLeast: Math.max(...ratios.map((one) => one.known)),
    isComplete: ratios.every(({ isComplete }) => isComplete),
  };
}

/** 4: source, shut-in oil that warms up, and the blocked rod side within the weakest rating; the relief opens above the setting. */
export function highestWithinRating(facts: CircuitFacts): Verdict {
  const { settingPa, tolerancePa } = settingOf(facts);
  const high = add(settingPa, known(tolerancePa));
  const gauge = gaugeError(facts);
  const [atSupply, atClamps] = [highestOfSource(facts, 'supply'), highestOfSource(facts, 'clamps')];
  const bound = (verdict: Verdict, { isBoundOnly }: typeof atSupply) =>
    isBoundOnly && verdict.status === 'fails' ? stands('unproven', verdict.part) : verdict;
  const ofSource = (from: typeof atSupply, on?: readonly Line[]) =>
    bound(
      againstRatings(facts, 'highest-within-rating', {
        ...{ name: 'source', demand: from.pa, tolerances: [], gauge: 0 },
        ...(on === undefined ? {} : { on }),
      }),
      from,
    );
  // A relief of the clamp line alone holds nothing back in front of the valve.
  const isHeldAtClamps = reliefsOf(facts).some(
    (one) => one.lineFunctions.length > 0 && (isIn(one, 'supply') || isIn(one, 'clamp')) && !holdsSource(facts, one),
  );
  const parts = isHeldAtClamps
    ? [ofSource(atSupply, ['supply', 'unclamp']), ofSource(atClamps, ['clamp'])]
    : [ofSource(atSupply)];
  const shut = shutsIn(facts);
  const rise = warmUp(facts);
  const trapped = reliefOfTrapped(facts);
  const atClampLine = reliefBeyond(facts);
  // A relief of which nobody knows what it lets through may or may not be in time.
  const ifKnown = (verdict: Verdict, { isUnknown } = trapped): Verdict =>
    isUnknown && verdict.status === 'fails' ? stands('unproven', verdict.part) : verdict;
  if (shut !== false) {
    const ofShutIn = (demand: number | null, isExact: boolean): Verdict =>
      againstRatings(facts, 'highest-within-rating', {
        ...{ name: 'shut-in oil', demand, tolerances: isExact ? [tolerancePa] : [], gauge: isExact ? gauge : 0 },
      });
    const warm = add(high, rise);
    const relieved = trapped.pa;
    const isRelieved = relieved !== null && (warm === null || relieved < warm);
    const verdict = ofShutIn(isRelieved ? relieved : warm, !isRelieved);
    // However much it warms up it is not more than the relief leaves; of an unknown warm-up only the setting is sure.
    const isSure = !isRelieved || warm !== null || verdict.status !== 'fails';
    const sure = isSure ? verdict : ofShutIn(Math.min(known(high), known(relieved)), true);
    const atLeast = isSure || sure.status === 'fails' ? sure : stands('unproven', 'shut-in oil');
    parts.push(shut === null ? stands('unproven', 'shut-in oil') : ifKnown(atLeast));
  }
  // Shut in while it is open, the unclamp line has the setting and warms up for itself; nothing of the clamp line relieves it.
  const { atLeast: opposing, isComplete } = opposingAreas(facts);
  const isUnsaid = !unclampLineCanTrap(facts) && facts.circuit.isDecoupled === null;
  if ((unclampLineCanTrap(facts) || isUnsaid) && !(isComplete && opposing === 0)) {
    const warm = warmUpOfUnclamp(facts);
    const verdict = againstRatings(facts, 'highest-within-rating', {
      ...{ name: 'shut-in oil, open', demand: add(high, Math.max(0, known(warm))), tolerances: [tolerancePa], gauge },
      on: ['unclamp'],
    });
    const cold = againstRatings(facts, 'highest-within-rating', {
      ...{ name: 'shut-in oil, open', demand: high, tolerances: [tolerancePa], gauge },
      on: ['unclamp'],
    });
    // Whether it is shut in at all nobody has said: then between cold and warm.
    if (isUnsaid)
      parts.push(warm !== null && cold.status === verdict.status ? verdict : stands('unproven', verdict.part));
    else parts.push(warm !== null || verdict.status === 'fails' ? verdict : stands('unproven', verdict.part));
  }
  const lines: BlockedLine[] = [
    ...(unclampLineCanBlock(facts) ? (['unclamp'] as const) : []),
    ...(clampLineCanBlock(facts) ? (['clamp'] as const) : []),
  ];
  for (const line of lines) {
    const ratio = greatestAreaRatio(facts, line);
    if (ratio === null) continue;
    // A relief of the clamp line itself holds it, whatever presses.
    const relieved = line === 'clamp' ? (atClampLine.pa ?? Infinity) : Infinity;
    // The setting is reached for certain; the source's own highest where it is higher, or known at all.
    const blocked = (pa: number | null) =>
      againstRatings(facts, 'highest-within-rating', {
        name: `blocked ${line} line`,
        demand: pa === null ? null : Math.min(relieved, pa * ratio.atLeast),
        tolerances: [],
        gauge: ratio.isComplete ? 0 : null,
        on: [line],
      });
    // The clamp line is pressed upon by what is in the unclamp line, and the other way round.
    const from = line === 'unclamp' ? atClamps : atSupply;
    const ofLine = (verdict: Verdict): Verdict => (line === 'clamp' ? ifKnown(verdict, atClampLine) : verdict);
    const atSetting = ofLine(blocked(high));
    const atSource = ofLine(bound(blocked(from.pa === null ? null : Math.max(from.pa, known(high))), from));
    parts.push(from.isBoundOnly && atSetting.status === 'fails' ? atSetting : atSource);
  }
  // What stands in the tank line alone bears the highest pressure of the return.
  const returning = ratedInReturn(facts);
  if (returning.length > 0) {
    const rated = returning.filter((pa) => pa !== null);
    parts.push(
      compare({
        ...{ part: 'tank line', demand: facts.circuit.returnPressurePa, tolerances: [], gauge: 0 },
        capacity: rated.length === 0 ? null : Math.min(...rated),
        asked: facts.marginsAsked['highest-within-rating'],
        isIncomplete: rated.length < returning.length,
      }),
    );
  }
  for (const relief of reliefsOf(facts).filter((one) => isIn(one, 'supply') || isIn(one, 'clamp'))) {
    parts.push(
      compare({
        part: 'relief opens',
        demand: high,
        capacity: add(figure(relief, 'openingPressure'), -known(figure(relief, 'openingTolerance'))),
        tolerances: [tolerancePa, known(figure(relief, 'openingTolerance'))],
        gauge,
        asked: facts.marginsAsked['highest-within-rating'],
      }),
    );
  }
  return worst(parts);
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
  const rise = shut === true ? warmUp(facts) : 0;
  const all = [
    ...limited.map(({ workpieceLimitPa }) => ({ part: 'workpiece', allowed: workpieceLimitPa })),
    ...pads.map((allowed) => ({ part: 'pad', allowed })),
    ...locators.map((allowed) => ({ part: 'locator', allowed })),
  ];
  const required = requiredPressure(facts).atLeast;
  const parts = all.flatMap(({ part, allowed }) => [
    compare({
      part,
      demand: add(settingPa, known(tolerancePa) + known(rise)),
      capacity: allowed,
      tolerances: [tolerancePa],
      gauge: gaugeError(facts),
      asked: facts.marginsAsked['workpiece-limit'],
      isIncomplete: shut === null || rise === null,
    }),
    // Not known: check 1 says so.
    ...(allowed !== null && required > allowed ? [stands('fails', 'no window')] : []),
  ]);
  return worst(parts);
}

/**
 * What is left of a pressure that lines kept up with oil as it was read, in oil as thin as at work: loss goes with viscosity (Hagen-Poiseuille), and
 * an air-driven pump gives less the nearer it comes to ratio times air; null: not known.
 */
function shareLeftAtWork(facts: CircuitFacts): number | null {
  const { lowestWhileSharedPa: readPa, airPressurePa, oilTemperatureK } = facts.settings.readings ?? {};
  const { cold, working } = oilTemperatures(facts);
  const at = oilTemperatureK ?? cold;
  if (at === null || working === null || !readPa) return null;
  if (at >= working) return 1;
  const [thick, thin] = [viscosityAt(facts, at), viscosityAt(facts, working)];
  if (thick === null || thin === null || !(thin <= thick)) return null;
  if (facts.powerUnit.drive !== 'air') return thin / thick;
  const stall = times(figure(fittedOf(facts, 'pump'), 'pistonRatio'), airPressurePa ?? null);
  if (stall === null) return null;
  if (readPa > stall) return 1;
  // p / (stall - p) of each is as the viscosities.
  const each = (readPa * thin) / thick;
  return (stall * each) / (stall - readPa + each) / readPa;
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
  for (const { isFixtureAsRead } of facts.neighbours) {
    // Read with another fixture over there, it says nothing of this one.
    const read = readingsInForce(facts);
    const { drive, plantAirLowPa } = facts.powerUnit;
    // At some flow the pressure goes with the stall, and the stall with the air.
    const share = drive === 'air' && plantAirLowPa !== null && read?.airPressurePa ? Math.min(1, plantAirLowPa / read.airPressurePa) : 1; // prettier-ignore
    const lowest = isFixtureAsRead === false ? null : times(read?.lowestWhileSharedPa ?? null, share);
    const asRead = part('neighbour clamps', lowest, 0);
    const left = lowest === null ? 1 : shareLeftAtWork(facts);
    // Read with colder oil it is somewhere between what was read and what thinner oil leaves of it.
    const atWork = left === 1 ? asRead : part('neighbour clamps', left === null ? 0 : times(lowest, left), 0);
    const isSure = left === 1 || atWork.status === 'holds';
    parts.push(asRead.status === 'fails' ? asRead : isSure ? atWork : stands('unproven', atWork.part));
  }
  return worst(parts);
}
