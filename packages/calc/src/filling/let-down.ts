import { toAirShare, toOilShare, type ClampCircuit } from './clamp-circuit.js';
import { toDrivenFlow } from './driven-flow.js';

/** Steps of pressure, each as much of the one before: the time is found to a part in a thousand. */
const STEPS = 200;

export interface LetDown {
  /** as it was clamped: its volume is that of the line and of what the cylinders have taken, which give way */
  clamped: ClampCircuit;
  /** as it is opened: its return line lets the oil out */
  opening: ClampCircuit;
  /** pressures from which and to which it lets down, and what stands behind the return line [Pa] */
  fromPa: number;
  toPa: number;
  returnPressurePa: number;
  /** loss of the return for each flow, the more the more flows [Pa.s/m3] */
  resistanceAt: (flowM3PerS: number) => number;
}

/** Share of its volume that oil with air has left at a pressure. */
const toShare = (circuit: ClampCircuit, pressurePa: number): number =>
  toOilShare(circuit, pressurePa) + toAirShare(circuit, pressurePa);

/** Oil that comes out between two pressures: what it gives way by itself, what hoses do, and what springs back where clamps touch [m3]. */
function toVolumeBetween({ clamped }: LetDown, abovePa: number, belowPa: number): number {
  const { groups, lineVolumeM3, hoseCompliance } = clamped;
  const volume = groups.reduce((sum, { count, pistonM2, strokeM }) => sum + count * pistonM2 * strokeM, lineVolumeM3);
  const springs = groups.reduce(
    (sum, { count, pistonM2, stiffnessNPerM }) => sum + (count * pistonM2 ** 2) / stiffnessNPerM,
    0,
  );
  const share = Math.log(toShare(clamped, belowPa) / toShare(clamped, abovePa));
  return volume * share + (volume * hoseCompliance + springs) * (abovePa - belowPa);
}

/**
 * Time in which a clamped line lets down through its return line: its loss, and no more than a flow control lets out. Infinity where it
 * never falls so far [s].
 */
export function toLetDownTime(letDown: LetDown): number {
  const { opening, fromPa, toPa, returnPressurePa, resistanceAt } = letDown;
  if (toPa >= fromPa) return 0;
  if (toPa <= returnPressurePa) return Infinity;
  const { returnLimitM3PerS = Infinity } = opening;
  const ratio = ((toPa - returnPressurePa) / (fromPa - returnPressurePa)) ** (1 / STEPS);
  let timeS = 0;
  let above = fromPa - returnPressurePa;
  for (let step = 0; step < STEPS; step += 1) {
    const below = above * ratio;
    const flow = Math.min(returnLimitM3PerS, toDrivenFlow(Math.sqrt(above * below), resistanceAt));
    timeS += toVolumeBetween(letDown, above + returnPressurePa, below + returnPressurePa) / flow;
    above = below;
  }
  return timeS;
}
