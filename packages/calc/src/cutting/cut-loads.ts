import { requireFinite, requireThat } from '../errors.js';
import type { HoldingLoad } from '../holding/holding-force.js';
import { add, scaleBy, toTangents, toUnit, type Vector3 } from '../holding/vector.js';

export interface MillingLoadsInput {
  /** points of the tool's path on the part [m] */
  pathM: readonly Vector3[];
  /** from the spindle into the part, any length but zero */
  toolAxis: Vector3;
  /** largest tangential force [N], 0 <= F */
  tangentialForceN: number;
  /** radial over tangential force, about 0.3 to 0.5, worn up to 1 (common practice) [1] */
  radialRatio: number;
  /** force along the tool's axis, towards the part positive [N], either sign */
  axialForceN: number;
  /** directions around the axis that are tried at each point, from 4 */
  directions: number;
}

/**
 * Load cases of milling along a path: at each point the force turns around the tool's axis, since the arc of
 * engagement turns with the feed. Radial and tangential parts are square to each other; the axial part is added.
 * @throws CalcInputError out-of-range: no path, or fewer than four directions. not-finite: NaN or infinite input.
 */
export function millingLoads(input: MillingLoadsInput): HoldingLoad[] {
  requireFinite(input);
  const { pathM, toolAxis, tangentialForceN, radialRatio, axialForceN, directions } = input;
  requireThat(pathM.length > 0, 'out-of-range', ['pathM'], 'at least one point');
  requireThat(
    Number.isInteger(directions) && directions >= 4,
    'out-of-range',
    ['directions'],
    'at least four directions',
  );
  const axis = toUnit(toolAxis);
  const turned = toTangents(axis, directions);
  const radial = toTangents(axis, directions * 4);
  return pathM.flatMap((pointM, point) =>
    turned.map((tangent, turn) => {
      // A quarter turn on: four times as many corners, `directions` corners further.
      const across = radial[(4 * turn + directions) % (4 * directions)] as Vector3;
      const inPlane = add(scaleBy(tangentialForceN, tangent), scaleBy(radialRatio * tangentialForceN, across));
      return { name: `${point + 1}/${turn + 1}`, forceN: add(inPlane, scaleBy(axialForceN, axis)), pointM };
    }),
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
 * Load cases of drilling: thrust and torque into the part at each hole, and the pull upwards when breaking through.
 * @throws CalcInputError out-of-range: no holes. not-finite: NaN or infinite input.
 */
export function drillingLoads(input: DrillingLoadsInput): HoldingLoad[] {
  requireFinite(input);
  const { holesM, toolAxis, thrustN, torqueNm, breakthroughRatio } = input;
  requireThat(holesM.length > 0, 'out-of-range', ['holesM'], 'at least one hole');
  const axis = toUnit(toolAxis);
  // A right-handed drill turns clockwise seen from the spindle: along its axis.
  const momentNm = scaleBy(torqueNm, axis);
  return holesM.flatMap((pointM, hole) => [
    { name: `${hole + 1}/in`, forceN: scaleBy(thrustN, axis), pointM, momentNm },
    { name: `${hole + 1}/through`, forceN: scaleBy(-breakthroughRatio * thrustN, axis), pointM, momentNm },
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
 * Load cases of tapping: the torque turns one way going in, pushed by a tap that lags, and the other way coming out,
 * pulled by it.
 * @throws CalcInputError out-of-range: no holes. not-finite: NaN or infinite input.
 */
export function tappingLoads(input: TappingLoadsInput): HoldingLoad[] {
  requireFinite(input);
  const { holesM, toolAxis, torqueNm, axialForceN } = input;
  requireThat(holesM.length > 0, 'out-of-range', ['holesM'], 'at least one hole');
  const axis = toUnit(toolAxis);
  return holesM.flatMap((pointM, hole) => [
    { name: `${hole + 1}/in`, forceN: scaleBy(axialForceN, axis), pointM, momentNm: scaleBy(torqueNm, axis) },
    { name: `${hole + 1}/out`, forceN: scaleBy(-axialForceN, axis), pointM, momentNm: scaleBy(-torqueNm, axis) },
  ]);
}
