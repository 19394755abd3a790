import { requireFinite, requireThat } from '../errors.js';
import type { HoldingLoad } from '../holding/holding-force.js';
import { add, cross, dot, scaleBy, toTangents, toUnit, ZERO_VECTOR, type Vector3 } from '../holding/vector.js';
import type { TeethMoment } from './milling-teeth.js';

const ROUNDING = 1e-9;

/** Points that no two others have between them: along a straight path a load asks for the most at one of its ends. */
function keepCorners(points: readonly Vector3[]): { pointM: Vector3; number: number }[] {
  const isBetween = (point: Vector3, from: Vector3, to: Vector3): boolean => {
    const [whole, part] = [add(to, scaleBy(-1, from)), add(point, scaleBy(-1, from))];
    const share = dot(part, whole) / dot(whole, whole);
    const off = Math.hypot(...add(part, scaleBy(-share, whole)));
    return share > 0 && share < 1 && off <= ROUNDING * Math.hypot(...whole);
  };
  const isSame = (a: Vector3, b: Vector3): boolean => a.every((value, axis) => value === b[axis]);
  const apart = points
    .map((pointM, index) => ({ pointM, number: index + 1 }))
    .filter(({ pointM }, index) => points.findIndex((other) => isSame(other, pointM)) === index);
  return apart.filter(
    ({ pointM }) => !apart.some((a, i) => apart.some((b, j) => j > i && isBetween(pointM, a.pointM, b.pointM))),
  );
}

export interface MillingLoadsInput {
  /** points of the tool's path on the part [m] */
  pathM: readonly Vector3[];
  /** from the spindle into the part, any length but zero */
  toolAxis: Vector3;
  /** D: diameter of the circle on which the teeth cut [m], 0 < D */
  cutterDiameterM: number;
  /** what the teeth in cut do together, at each moment that counts: as `millingTeeth` gives it */
  teeth: readonly TeethMoment[];
  /** radial over tangential force, about 0.3 to 0.5, worn up to 1 (common practice) [1] */
  radialRatio: number;
  /** force along the tool's axis while the most is cut, towards the part positive [N], either sign */
  axialForceN: number;
  /** directions of feed around the axis that are tried at each point, from 4 */
  directions: number;
}

/**
 * Load cases of milling along a path. The forces act at the teeth: on the workpiece each tooth pushes along its way (tangential), outwards
 * (radial) and along the axis, so that together they turn it about the spindle as well, and the axial force bites off the middle.
 *
 * A cut turned by an angle loads the workpiece by w₀ + u·cos θ + v·sin θ, an ellipse, and what a fixture holds at a given clamping is
 * convex: the corners of a polygon around that ellipse ask for at least as much as every direction there is, with n corners by no
 * more than 1/cos(π/n) of what turns. The axial force may help to hold (pressing on the pads), so that each case is also
 * there without it.
 * @throws CalcInputError out-of-range: no path, or fewer than four directions. not-finite: NaN or infinite input.
 */
export function millingLoads(input: MillingLoadsInput): HoldingLoad[] {
  requireFinite(input);
  const { pathM, toolAxis, cutterDiameterM, teeth, radialRatio, axialForceN, directions } = input;
  requireThat(pathM.length > 0, 'out-of-range', ['pathM'], 'at least one point');
  requireThat(
    Number.isInteger(directions) && directions >= 4,
    'out-of-range',
    ['directions'],
    'at least four directions',
  );
  const axis = toUnit(toolAxis);
  const outwards = toTangents(axis, directions).map((tangent) => scaleBy(1 / Math.cos(Math.PI / directions), tangent));
  const largestN = Math.max(0, ...teeth.map(({ tangentialN }) => tangentialN));
  const axials = axialForceN === 0 ? [0] : [axialForceN, 0];
  const arm = cutterDiameterM / 2;
  return keepCorners(pathM).flatMap(({ pointM, number }) =>
    teeth.flatMap(({ tangentialN, resultantN }) =>
      axials.flatMap((axialN) =>
        outwards.map((outward, turn): HoldingLoad => {
          // Seen from the spindle a right-handed cutter turns clockwise: along its axis.
          const across = add(cross(axis, outward), scaleBy(radialRatio, outward));
          const share = largestN === 0 ? 0 : axialN / largestN;
          const offMiddle = scaleBy(arm * share * resultantN, cross(outward, axis));
          const words = [
            number,
            Math.round((360 * turn) / directions),
            ...(tangentialN < largestN ? ['part'] : []),
            ...(axialN === axialForceN ? [] : ['no-axial']),
          ];
          return {
            name: words.join('/'),
            forceN: add(scaleBy(resultantN, across), scaleBy(share * tangentialN, axis)),
            pointM,
            momentNm: add(scaleBy(arm * tangentialN, axis), offMiddle),
          };
        }),
      ),
    ),
  );
}

export interface DrillingLoadsInput {
  /** where the holes are [m] */
  holesM: readonly Vector3[];
  /** from the spindle into the part */
  toolAxis: Vector3;
  /** thrust [N], 0 <= thrustN */
  thrustN: number;
  /** torque [N.m], 0 <= torqueNm */
  torqueNm: number;
  /** pull on the part when the drill breaks through, as a share of the thrust [1] */
  breakthroughRatio: number;
}

/**
 * Load cases of drilling: thrust and torque into the part at each hole, and the pull upwards when breaking through; each also without the
 * torque, which may help to hold. Torque without thrust lies between thrust and pull.
 * @throws CalcInputError out-of-range: no holes. not-finite: NaN or infinite input.
 */
export function drillingLoads(input: DrillingLoadsInput): HoldingLoad[] {
  requireFinite(input);
  const { holesM, toolAxis, thrustN, torqueNm, breakthroughRatio } = input;
  requireThat(holesM.length > 0, 'out-of-range', ['holesM'], 'at least one hole');
  const axis = toUnit(toolAxis);
  // A right-handed drill turns clockwise seen from the spindle: along its axis.
  const momentNm = scaleBy(torqueNm, axis);
  const [thrust, pull] = [scaleBy(thrustN, axis), scaleBy(-breakthroughRatio * thrustN, axis)];
  return keepCorners(holesM).flatMap(({ pointM, number }) => [
    { name: `${number}/in`, forceN: thrust, pointM, momentNm },
    { name: `${number}/through`, forceN: pull, pointM, momentNm },
    { name: `${number}/in/no-torque`, forceN: thrust, pointM },
    { name: `${number}/through/no-torque`, forceN: pull, pointM },
  ]);
}

export interface TappingLoadsInput {
  /** where the threads are [m] */
  holesM: readonly Vector3[];
  /** from the spindle into the part */
  toolAxis: Vector3;
  /** torque [N.m], 0 <= torqueNm */
  torqueNm: number;
  /** force along the axis, of a tap that leads or lags its feed [N], 0 <= axialForceN */
  axialForceN: number;
}

/**
 * Load cases of tapping: the torque turns one way going in, pushed by a tap that lags and pulled by one that leads, and the other way coming out,
 * pulled by the one and pushed by the other; each also without the push or pull, which may help to hold.
 * @throws CalcInputError out-of-range: no holes. not-finite: NaN or infinite input.
 */
export function tappingLoads(input: TappingLoadsInput): HoldingLoad[] {
  requireFinite(input);
  const { holesM, toolAxis, torqueNm, axialForceN } = input;
  requireThat(holesM.length > 0, 'out-of-range', ['holesM'], 'at least one hole');
  const axis = toUnit(toolAxis);
  const ways = [
    { way: 'in', sign: 1 },
    { way: 'out', sign: -1 },
  ];
  return keepCorners(holesM).flatMap(({ pointM, number }) =>
    ways.flatMap(({ way, sign }) => {
      const momentNm = scaleBy(sign * torqueNm, axis);
      const pushed = { name: `${number}/${way}`, forceN: scaleBy(sign * axialForceN, axis), pointM, momentNm };
      const leading = { ...pushed, name: `${number}/${way}/leading`, forceN: scaleBy(-sign * axialForceN, axis) };
      const alone = { ...pushed, name: `${number}/${way}/no-axial`, forceN: ZERO_VECTOR };
      return axialForceN === 0 ? [pushed] : [pushed, leading, alone];
    }),
  );
}
