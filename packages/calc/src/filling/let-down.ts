import { toAirShare, toOilShare, type ClampCircuit, type LineFilling } from './clamp-circuit.js';
import { toDrivenFlow } from './driven-flow.js';

/** Steps of flow, each as much of the one before: the time is found to a few parts in a thousand where a line turns laminar on the way. */
const STEPS = 64;

/** What a line holds that presses: its oil, its hoses, and its side of the cylinders. */
export type Pressed = LineFilling & Pick<ClampCircuit, 'groups'>;

export interface LetDown {
  /** as it was pressed: its volume is that of the line and of what the cylinders have taken, which give way */
  pressed: Pressed;
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
const toShare = (circuit: Pressed, pressurePa: number): number =>
  toOilShare(circuit, pressurePa) + toAirShare(circuit, pressurePa);

/** Oil that comes out between two pressures: what it gives way by itself, what hoses do, and what springs back where clamps touch [m3]. */
function toVolumeBetween({ pressed }: LetDown, abovePa: number, belowPa: number): number {
  const { groups, lineVolumeM3, hoseCompliance } = pressed;
  const volume = groups.reduce((sum, { count, pistonM2, strokeM }) => sum + count * pistonM2 * strokeM, lineVolumeM3);
  const springs = groups.reduce(
    (sum, { count, pistonM2, stiffnessNPerM }) => sum + (count * pistonM2 ** 2) / stiffnessNPerM,
    0,
  );
  const share = Math.log(toShare(pressed, belowPa) / toShare(pressed, abovePa));
  return volume * share + (volume * hoseCompliance + springs) * (abovePa - belowPa);
}

/**
 * Time in which a line lets down through its return: its loss, and no more than a flow control lets out. Infinity where it never falls so
 * far [s].
 */
export function toLetDownTime(letDown: LetDown): number {
  const { opening, fromPa, toPa, returnPressurePa, resistanceAt } = letDown;
  if (toPa >= fromPa) return 0;
  if (toPa <= returnPressurePa) return Infinity;
  const { returnLimitM3PerS = Infinity } = opening;
  // By flows, not by pressures: the pressure that drives a flow needs no search.
  const [most, least] = [fromPa, toPa].map((pressurePa) =>
    toDrivenFlow(pressurePa - returnPressurePa, resistanceAt),
  ) as [number, number];
  const ratio = (least / most) ** (1 / STEPS);
  let [timeS, above, flow] = [0, fromPa, most];
  for (let step = 1; step <= STEPS; step += 1) {
    const next = flow * ratio;
    const below = step === STEPS ? toPa : Math.min(above, Math.max(toPa, next * resistanceAt(next) + returnPressurePa));
    timeS += toVolumeBetween(letDown, above, below) / Math.min(returnLimitM3PerS, Math.sqrt(flow * next));
    [above, flow] = [below, next];
  }
  return timeS;
}
