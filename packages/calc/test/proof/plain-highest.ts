/** Check 4, worked out by hand a second time. Sources: reference formulas `trapped-oil-thermal-rise`, `rod-side-intensification`, `pressure-chain`. */
import type { CircuitFacts } from '../../src/index.js';
import { againstRatings, type Line } from './plain-pressure-checks.js';
import {
  figure,
  gaugeError,
  highestOfSource,
  opposingAreas,
  pullsAsSaid,
  ratedInReturn,
  settingOf,
} from './plain-pressures.js';
import { holdsSource, reliefBeyond, reliefOfTrapped, reliefsOf } from './plain-reliefs.js';
import { clampLineCanBlock, isIn, isShutByValve, shutsIn, unclampLineCanBlock } from './plain-shut-in.js';
import { unclampLineCanTrap, warmUp, warmUpOfUnclamp } from './plain-shut-in.js';
import { add, compare, known, stands, times, worst } from './plain-verdict.js';
import type { Verdict } from './plain-verdict.js';

const area = (boreM: number | null, rodM: number | null): number | null =>
  boreM === null || rodM === null ? null : (Math.PI / 4) * (boreM ** 2 - rodM ** 2);

type BlockedLine = 'clamp' | 'unclamp';
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

interface Warming {
  /** the pressing oil is shut in; null: nobody has said */
  shut: boolean | null;
  /** what it rises by, and what the blocked oil rises by alone */
  pressing: number | null;
  blocked: number | null;
  /** what lets the pressing oil out */
  relief: { pa: number | null; isUnknown: boolean };
}
const NO_RELIEF = { pa: null, isUnknown: false };

/** What warms up on both sides of a line that is blocked. */
function warmthAround(facts: CircuitFacts, line: BlockedLine): Warming {
  const [ofClamp, ofUnclamp] = [warmUp(facts), warmUpOfUnclamp(facts)];
  if (line === 'unclamp')
    return { shut: shutsIn(facts), pressing: ofClamp, blocked: ofUnclamp, relief: reliefOfTrapped(facts) };
  const isUnsaid = [facts.circuit.isDecoupled, isShutByValve(facts)].includes(null);
  const shut = unclampLineCanTrap(facts) ? true : isUnsaid ? null : false;
  return { shut, pressing: ofUnclamp, blocked: ofClamp, relief: NO_RELIEF };
}

/** Setting times ratio, and what both oils make of it: the piston between them gives way until forces and volumes balance. */
function warmBlocked(
  { shut, pressing, blocked, relief }: Warming,
  highPa: number | null,
  ratio: number,
): { least: number | null; most: number | null } {
  const cold = times(highPa, ratio);
  if (shut === false || cold === null) return { least: cold, most: cold };
  const rise = pressing === null || blocked === null ? null : Math.max(ratio * pressing, blocked);
  const ofRelief = relief.pa === null ? Infinity : Math.max(cold, relief.pa * ratio);
  const most = Math.min(rise === null ? Infinity : cold + rise, ofRelief);
  const isSure = shut === true && rise !== null && !relief.isUnknown;
  return { least: isSure ? most : cold, most: Number.isFinite(most) ? most : null };
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
    // Whether it is shut in at all nobody has said: then between cold and warm.
    const cold = ofShutIn(high, true);
    const isEither = shut === null && cold.status !== 'fails' && cold.status !== atLeast.status;
    parts.push(
      isEither ? stands('unproven', 'shut-in oil') : ifKnown(shut === null && cold.status === 'fails' ? cold : atLeast),
    );
  }
  // Shut in while it is open, the unclamp line has the setting and warms up for itself; nothing of the clamp line relieves it.
  const { atLeast: opposing, isComplete } = opposingAreas(facts);
  const isUnsaid = !unclampLineCanTrap(facts) && [facts.circuit.isDecoupled, isShutByValve(facts)].includes(null);
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
    const blocked = (pa: number | null) =>
      againstRatings(facts, 'highest-within-rating', {
        name: `blocked ${line} line`,
        demand: pa === null ? null : Math.min(relieved, pa),
        tolerances: [],
        gauge: ratio.isComplete ? 0 : null,
        on: [line],
      });
    // The clamp line is pressed upon by what is in the unclamp line, and the other way round; shut in there, it warms up first.
    const from = line === 'unclamp' ? atClamps : atSupply;
    const fromPa = times(from.pa, ratio.atLeast);
    const warm = warmBlocked(warmthAround(facts, line), high, ratio.atLeast);
    const ofLine = (verdict: Verdict): Verdict => (line === 'clamp' ? ifKnown(verdict, atClampLine) : verdict);
    const sure = Math.max(known(warm.least), from.isBoundOnly ? 0 : known(fromPa));
    const atLeast = ofLine(blocked(high === null && fromPa === null ? null : sure));
    if (atLeast.status === 'fails' || (!from.isBoundOnly && warm.least === warm.most)) parts.push(atLeast);
    else {
      const atMost = blocked(fromPa === null || warm.most === null ? null : Math.max(fromPa, warm.most));
      const isOpen = atMost.status === 'fails' || (atMost.status === 'marginal' && atLeast.status === 'holds');
      parts.push(isOpen ? stands('unproven', atMost.part) : atMost);
    }
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
