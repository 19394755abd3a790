import { toDrivenFlow } from '../filling/driven-flow.js';
import type { Conditions, Group, Known, Line, Way } from './actuation-figures.js';
import { toArea } from './figures.js';
import { toFittingResistance, toResistance, toValveResistance, type Passing } from './line-losses.js';

/** Areas that drive a cylinder and that push oil back. */
export function toSides(
  { boreM, rodM, pulls }: Pick<Group, 'boreM' | 'rodM' | 'pulls'>,
  way: Way,
): [drive: number, back: number] {
  const [piston, annulus] = [toArea(boreM), toArea(boreM) - toArea(rodM)];
  return (way === 'clamp') === pulls ? [annulus, piston] : [piston, annulus];
}

/** What a line with what stands in it loses for each flow, at the most that passes [Pa.s/m3]. */
export function lossOf({ oil }: Known, { pieces, fittings }: Line, at: Conditions, flowM3PerS: number): number {
  const { viscosityM2PerS, losses } = at;
  const passing: Passing = { viscosityM2PerS, densityKgPerM3: oil.densityKgPerM3, flowM3PerS };
  // What a fitting loses may be less than any figure that stands for it.
  const laminar = { ...passing, flowM3PerS: 0 };
  if (losses === 'least') return toResistance(pieces, laminar);
  const straight = losses === 'former' ? laminar : passing;
  return toResistance(pieces, straight) + toResistance(fittings, straight) + toFittingResistance(fittings, passing);
}

/** What the directional valve loses for each flow, at the most that passes [Pa.s/m3]. */
export function lossOfValve({ feed: { valve }, oil }: Known, at: Conditions, flowM3PerS: number): number {
  // Below its rated flow, and with thinner oil, it loses less than in proportion; how much less nobody has said.
  if (at.losses === 'least') return 0;
  if (at.losses === 'former') return valve.lossAtRatedFlowPa / valve.ratedFlowM3PerS;
  const { viscosityM2PerS } = at;
  return toValveResistance(valve, { viscosityM2PerS, flowM3PerS }, oil.at40M2PerS);
}

/** What a movement loses for each flow [Pa.s/m3]: from pump to manifold, in the valve, from there to the cylinders, and back to the tank. */
export interface CircuitLosses {
  supply: number;
  valve: number;
  line: number;
  back: number;
}

/** What the return loses for each flow, at the most that passes. */
export const toReturnLoss = (known: Known, way: Way, at: Conditions, flowM3PerS: number): number => {
  const { lines } = known.feed;
  const other = way === 'clamp' ? 'unclamp' : 'clamp';
  return (
    lossOf(known, lines[other], at, flowM3PerS) +
    lossOfValve(known, at, flowM3PerS) +
    lossOf(known, lines.tank, at, flowM3PerS)
  );
};

/** The most that comes back: what the pump's flow pushes out by the areas, or what the strongest spring can push through the return. */
function toReturnFlow(known: Known, way: Way, which: readonly Group[], at: Conditions, inflowM3PerS: number): number {
  const driven = which
    .filter(({ acting }) => acting === 'double')
    .map((group) => {
      const [drive, back] = toSides(group, way);
      return (inflowM3PerS * back) / drive;
    });
  const springs = which.filter(({ acting }) => way === 'unclamp' && acting === 'single');
  const pressurePa = Math.max(0, ...springs.map((group) => group.springForceN / toSides(group, way)[1]));
  const sprung = pressurePa === 0 ? 0 : toDrivenFlow(pressurePa, (flow) => toReturnLoss(known, way, at, flow));
  const other = way === 'clamp' ? 'unclamp' : 'clamp';
  return Math.min(known.feed.limits.from[other], Math.max(sprung, ...driven, 0));
}

/** The losses of a movement, each for the most oil that passes there. */
export function toLosses(known: Known, way: Way, which: readonly Group[], at: Conditions): CircuitLosses {
  const { lines, limits } = known.feed;
  const former = at.losses === 'former';
  const inflow = former ? at.freeFlowM3PerS : Math.min(at.freeFlowM3PerS, limits.to[way]);
  const outflow = at.losses === 'most' ? toReturnFlow(known, way, which, at, inflow) : at.freeFlowM3PerS;
  return {
    supply: lossOf(known, lines.supply, at, inflow),
    valve: lossOfValve(known, at, inflow),
    line: lossOf(known, lines[way], at, inflow),
    back: toReturnLoss(known, way, at, outflow),
  };
}
