import { findArc } from './milling-arc.js';
import type { MillingForceInput } from './milling-force.js';
import { toSpecificForce } from './specific-cutting-force.js';

/** What the teeth in cut do together at one moment of a turn. */
export interface TeethMoment {
  /** Σ F_t: sum of their tangential forces, which is what turns the workpiece about the spindle [N] */
  tangentialN: number;
  /** |Σ F_t·e_r|: the same as vectors at the teeth, which partly balance each other [N] */
  resultantN: number;
}

/** Moments of a pitch that are looked at, besides those at which a tooth enters or leaves. */
const MOMENTS = 360;
const ROUNDING = 1e-9;
/** A moment that adds less than this to the hull of the others is left out. */
const SLACK = 1e-4;

/** Upper chain of the convex hull from the origin to the largest sum: what lies under it is a mixture of its corners. */
function toChain(moments: readonly TeethMoment[]): TeethMoment[] {
  const sorted = [...moments].sort((a, b) => a.tangentialN - b.tangentialN || a.resultantN - b.resultantN);
  const largest = Number(sorted.at(-1)?.tangentialN);
  const chain: TeethMoment[] = [{ tangentialN: 0, resultantN: 0 }];
  for (const moment of sorted) {
    for (let last = chain.at(-1), before = chain.at(-2); last && before; last = chain.at(-1), before = chain.at(-2)) {
      const [x, y] = [moment.tangentialN - before.tangentialN, moment.resultantN - before.resultantN];
      const [u, v] = [last.tangentialN - before.tangentialN, last.resultantN - before.resultantN];
      // The corner before stays only if it stands clearly above the line from the one before it to this moment.
      if (v * x - u * y > SLACK * largest * Math.hypot(x, y)) break;
      chain.pop();
    }
    chain.push(moment);
  }
  return chain.slice(1);
}

/**
 * Moments of a turn that no others cover: the cutter enters the workpiece (teeth ahead cut first), cuts in its full width, and leaves it
 * (teeth ahead are out first). Each tooth bears F_t(φ) = kc·b·h(φ), h(φ) = f_z·sin κ·sin φ, with kc by the law of Kienzle, which holds the
 * force of the edge as well: the mechanistic model of milling with its tangential coefficient as a power of the chip thickness
 * (Altintas, Manufacturing Automation, 2nd ed. 2012, chapter 2; from memory). Radial and axial forces follow in proportion.
 */
export function millingTeeth(input: MillingForceInput): TeethMoment[] {
  const { kc11Pa, mc, teeth, feedPerToothM, axialDepthM, leadAngleRad, wear } = input;
  const { entry, exit } = findArc(input);
  const pitch = (2 * Math.PI) / teeth;
  const thickest = feedPerToothM * Math.sin(leadAngleRad);
  const perToothN = toSpecificForce(kc11Pa, mc, thickest) * (axialDepthM / Math.sin(leadAngleRad)) * thickest * wear;
  const forceOf = (angle: number): number => perToothN * Math.max(0, Math.sin(angle)) ** (1 - mc);
  const moments: TeethMoment[] = [];
  const take = (angles: readonly number[]): void => {
    let [tangentialN, x, y] = [0, 0, 0];
    for (const angle of angles) {
      const forceN = forceOf(angle);
      tangentialN += forceN;
      x += forceN * Math.cos(angle);
      y += forceN * Math.sin(angle);
      moments.push({ tangentialN, resultantN: Math.hypot(x, y) });
    }
  };
  const offsets = Array.from({ length: MOMENTS }, (_, step) => entry + (pitch * step) / MOMENTS);
  // At these both ends of the arc count, and a tooth in the middle of it cuts thickest.
  for (const offset of [...offsets, exit, Math.PI / 2]) {
    const first = Math.ceil((entry - offset - ROUNDING) / pitch);
    const last = Math.floor((exit - offset + ROUNDING) / pitch);
    const inCut = Array.from({ length: Math.max(0, last - first + 1) }, (_, k) => offset + (first + k) * pitch);
    const fromAhead = inCut.sort((a, b) => Math.abs(a - Math.PI / 2) - Math.abs(b - Math.PI / 2));
    take(fromAhead);
    take(fromAhead.toReversed());
  }
  return toChain(moments);
}
