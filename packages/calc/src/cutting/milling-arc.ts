import { isAtMost, isBelow, requireThat } from '../errors.js';
import type { MillingForceInput } from './milling-force.js';

type ArcInput = Pick<
  MillingForceInput,
  'cutterDiameterM' | 'radialWidthM' | 'engagement' | 'entryAngleRad' | 'exitAngleRad'
>;

/** Where a cutter is in the workpiece, from where an up-cut chip starts. */
export interface Arc {
  /** phi_1 [rad] */
  entry: number;
  /** phi_2 [rad] */
  exit: number;
  /** a_e: radial width of the cut [m] */
  radialWidthM: number;
}

export function findArc(input: ArcInput): Arc {
  const { cutterDiameterM, radialWidthM, engagement, entryAngleRad, exitAngleRad } = input;
  if (entryAngleRad !== undefined && exitAngleRad !== undefined) {
    requireThat(
      isBelow(entryAngleRad, exitAngleRad),
      'inconsistent',
      ['entryAngleRad', 'exitAngleRad'],
      'an entry before the exit',
    );
    requireThat(isAtMost(exitAngleRad, Math.PI), 'out-of-range', ['exitAngleRad'], 'at most 180 deg');
    const exit = Math.min(exitAngleRad, Math.PI);
    return {
      entry: entryAngleRad,
      exit,
      radialWidthM: (cutterDiameterM / 2) * (Math.cos(entryAngleRad) - Math.cos(exit)),
    };
  }
  requireThat(
    radialWidthM !== undefined && engagement !== undefined,
    'inconsistent',
    ['radialWidthM', 'engagement'],
    'a radial width with its engagement, or entry and exit angle',
  );
  requireThat(
    isAtMost(radialWidthM, cutterDiameterM),
    'inconsistent',
    ['radialWidthM', 'cutterDiameterM'],
    'a width not above the diameter',
  );
  const share = Math.min(1, radialWidthM / cutterDiameterM);
  // 2·asin(√s) is acos(1 − 2s) without its loss of digits for a narrow cut.
  const arc = 2 * Math.asin(Math.sqrt(share));
  if (engagement === 'up') return { entry: 0, exit: arc, radialWidthM };
  if (engagement === 'down') return { entry: Math.PI - arc, exit: Math.PI, radialWidthM };
  const half = Math.asin(share);
  return { entry: Math.PI / 2 - half, exit: Math.PI / 2 + half, radialWidthM };
}
