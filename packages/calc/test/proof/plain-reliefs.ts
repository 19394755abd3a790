/** What reliefs hold back, worked out by hand a second time. */
import type { CircuitFacts } from '../../src/index.js';
import { isBehindPumpAlone, isIn, isReduced, isShut, isShutBehindReducing } from './plain-shut-in.js';
import { known } from './plain-verdict.js';

type Component = CircuitFacts['components'][number];
const figure = ({ figures }: Component, name: string): number | null => figures[name] ?? null;
/** What the lowest of some reliefs lets through at full flow, where it never stands lower than where it opens, and as much later as its opening may be off; null: of none of them it is known. */
export function lowestFullFlow(reliefs: readonly Component[]): number | null {
  const flows = reliefs.flatMap((relief) => {
    const atFullFlow = figure(relief, 'fullFlowPressure');
    const late = known(figure(relief, 'openingTolerance'));
    return atFullFlow === null ? [] : [Math.max(atFullFlow, figure(relief, 'openingPressure') ?? atFullFlow) + late];
  });
  return flows.length === 0 ? null : Math.min(...flows);
}
export const reliefsOf = ({ components }: CircuitFacts): readonly Component[] =>
  components.filter(({ kind }) => kind === 'relief-valve');

/**
 * Of shut-in oil: relieved only by a relief on the clamps' side of what shuts it in. Where a check valve may sit in the clamp line too, or a pallet
 * is decoupled from it, somebody has to have said that the relief is beyond.
 */
function reliefAtClamps(
  facts: CircuitFacts,
  counts: (relief: Component) => boolean = () => true,
): { pa: number | null; isUnknown: boolean } {
  const checks = facts.components.filter(({ kind, place }) => kind === 'check-valve' && place === 'circuit');
  const isInSupply = checks.some(({ lineFunctions }) => lineFunctions.includes('supply'));
  const { isCheckHeld, isDecoupled } = facts.circuit;
  const isOpenLine =
    !checks.some((one) => isIn(one, 'clamp')) &&
    (isCheckHeld === false || isInSupply) &&
    isDecoupled === false &&
    isShutBehindReducing(facts) === false;
  return toLowest(
    reliefsOf(facts)
      .filter(counts)
      .filter(
        ({ place, lineFunctions, isBeyondShutOff }) =>
          place === 'circuit' &&
          lineFunctions.includes('clamp') &&
          (isBeyondShutOff === true || (isOpenLine && isBeyondShutOff !== false)),
      ),
  );
}

/** A clamp line that a coupling or a throttle blocks has a relief left only where somebody has said that it is beyond. */
export const reliefBeyond = (facts: CircuitFacts): { pa: number | null; isUnknown: boolean } =>
  reliefAtClamps(
    facts,
    (relief) =>
      relief.isBeyondShutOff === true || (facts.circuit.unclampLineCanBlock === false && !isShut(facts, 'clamp')),
  );

function toLowest(reaching: readonly Component[]): { pa: number | null; isUnknown: boolean } {
  const pa = lowestFullFlow(reaching);
  return { pa, isUnknown: reaching.length > 0 && pa === null };
}

/** Of oil that warms up: shut in by the pump alone, it finds a relief of the supply line as well. */
export function reliefOfTrapped(facts: CircuitFacts): { pa: number | null; isUnknown: boolean } {
  const [atClamps, ofSupply] = [
    reliefAtClamps(facts),
    toLowest(
      isBehindPumpAlone(facts) ? reliefsOf(facts).filter(({ lineFunctions }) => lineFunctions.includes('supply')) : [],
    ),
  ];
  const lowest = Math.min(atClamps.pa ?? Infinity, ofSupply.pa ?? Infinity);
  const pa = Number.isFinite(lowest) ? lowest : null;
  return { pa, isUnknown: pa === null && (atClamps.isUnknown || ofSupply.isUnknown) };
}

/** In front of the valve: one of the circuit's own may stand behind its reducing valve, where it holds back nothing of the pump. */
export const holdsSource = (facts: CircuitFacts, { place, lineFunctions }: Component): boolean =>
  lineFunctions.includes('supply') && !(place === 'circuit' && isReduced(facts, true));
