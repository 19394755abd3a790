import type { PlacedRelief } from '../pressure-ladder/pressure-ladder.types.js';
import type { CircuitFacts, ComponentFacts } from './circuit-facts.types.js';
import { figureOf, mayBeIn, refOf } from './component-figures.js';
import { isClampLineOpen, isOpenToPump, mayBeReduced, mayBeShutInClampLine } from './shut-off.js';

/** At full flow a relief never stands lower than where it opens. */
function fullFlowOf(relief: ComponentFacts): number | null {
  const [opening, fullFlow] = [figureOf(relief, 'openingPressure'), figureOf(relief, 'fullFlowPressure')];
  return opening === null || fullFlow === null ? fullFlow : Math.max(opening, fullFlow);
}

const isOfClampLine = ({ place, lineFunctions }: ComponentFacts): boolean =>
  place === 'circuit' && lineFunctions.includes('clamp');

/** Oil that is shut in reaches a relief of its own line alone, and where the line itself may be shut, one beyond that, as somebody has said. */
function relievesTrappedOil(relief: ComponentFacts, facts: CircuitFacts): boolean {
  if (!isOfClampLine(relief)) return false;
  return relief.isBeyondShutOff ?? !mayBeShutInClampLine(facts);
}

/** And where a coupling or a throttle blocks the line, or something that is not drawn may, one that somebody has said is beyond that. */
const relievesBlockedLine = (relief: ComponentFacts, facts: CircuitFacts): boolean =>
  relievesTrappedOil(relief, facts) && (relief.isBeyondShutOff === true || isClampLineOpen(facts));

/** Beyond what shuts the clamps off, as somebody has said or nobody has: it then lets out what warms up there. */
const mayLetOutTrappedOil = (relief: ComponentFacts): boolean =>
  relief.place === 'circuit' && mayBeIn(relief, 'clamp') && relief.isBeyondShutOff !== false;

/** Reliefs on the way from pump to clamps, the circuit's own first. One in another line, or in one that nobody has said, holds nothing back. */
export function toReliefs(facts: CircuitFacts): PlacedRelief[] {
  const all = facts.components.filter(({ kind }) => kind === 'relief-valve');
  const onTheWay = all.filter((one) => mayBeIn(one, 'supply') || mayBeIn(one, 'clamp'));
  const placed = [
    ...onTheWay.filter(({ place }) => place === 'circuit'),
    ...onTheWay.filter(({ place }) => place !== 'circuit'),
  ];
  return placed.map((relief) => ({
    ref: refOf(relief),
    openingPressurePa: figureOf(relief, 'openingPressure'),
    fullFlowPressurePa: fullFlowOf(relief),
    openingHalfWidthPa: figureOf(relief, 'openingTolerance') ?? 0,
    reseatPressurePa: figureOf(relief, 'reseatPressure'),
    relievesTrappedOil: relievesTrappedOil(relief, facts),
    relievesBlockedLine: relievesBlockedLine(relief, facts),
    relievesBehindPump: relief.lineFunctions.includes('supply') && isOpenToPump(facts),
    mayLetOutTrappedOil: mayLetOutTrappedOil(relief),
    // Of the circuit's own nobody knows that it stands before its reducing valve, and behind that it holds back nothing of the pump.
    relievesSource: relief.lineFunctions.includes('supply') && !(relief.place === 'circuit' && mayBeReduced(facts)),
    relievesClamps: relief.lineFunctions.length > 0,
  }));
}
