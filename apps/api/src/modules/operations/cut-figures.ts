import type { CutFigures, HoldingElement } from '@repo/calc';
import { toSiOf, type Cut } from '@repo/contracts';
import { fixtureElements } from '../../documents/fixture-elements.js';

type Vector = [number, number, number];
type Point = Cut['points'][number];

const toPoint = ({ x, y, z }: Point): Vector => [toSiOf(x, 'length'), toSiOf(y, 'length'), toSiOf(z, 'length')];
const toVector = (direction: { x: number; y: number; z: number } | null): Vector | null =>
  direction === null ? null : [direction.x, direction.y, direction.z];

/** A cut as it was typed, in SI. What was not given stays null. */
export function toCutFigures(cut: Cut): CutFigures {
  const toSiOrNull = (quantity: Cut['feed'], kind: Parameters<typeof toSiOf>[1]): number | null =>
    quantity === null ? null : toSiOf(quantity, kind);
  const { method, mc, teeth, engagement, wear, radialRatio, directions, thrustFactor, breakthroughRatio } = cut;
  return {
    method,
    kc11Pa: toSiOrNull(cut.kc11, 'stress'),
    mc,
    kcPa: toSiOrNull(cut.kc, 'stress'),
    diameterM: toSiOrNull(cut.diameter, 'length'),
    teeth,
    feedM: toSiOrNull(cut.feed, 'length'),
    axialDepthM: toSiOrNull(cut.axialDepth, 'length'),
    radialWidthM: toSiOrNull(cut.radialWidth, 'length'),
    engagement,
    leadAngleRad: toSiOrNull(cut.leadAngle, 'angle'),
    pitchM: toSiOrNull(cut.pitch, 'length'),
    pointAngleRad: toSiOrNull(cut.pointAngle, 'angle'),
    wear,
    radialRatio,
    axialForceN: toSiOrNull(cut.axialForce, 'force'),
    directions,
    thrustFactor,
    breakthroughRatio,
    pointsM: cut.points.map(toPoint),
    toolAxis: toVector(cut.toolAxis),
    partMassKg: toSiOrNull(cut.workpieceMass, 'mass'),
    centreOfMassM: cut.centreOfMass === null ? null : toPoint(cut.centreOfMass),
    gravity: toVector(cut.gravity),
    otherGravities: cut.otherGravities.map(({ x, y, z }) => [x, y, z]),
    indexingSpeedRadPerS: toSiOrNull(cut.indexingSpeed, 'angular-speed'),
    indexingAccelerationRadPerS2: toSiOrNull(cut.indexingAcceleration, 'angular-acceleration'),
    indexingRadiusM: toSiOrNull(cut.indexingRadius, 'length'),
    workpieceRadiusM: toSiOrNull(cut.workpieceRadius, 'length'),
    specificForceSpreadRatio: cut.specificForceSpread,
    frictionSpreadRatio: cut.frictionSpread,
    safetyFactor: cut.safetyFactor,
    coneFacets: cut.coneFacets,
  };
}

/** What holds the workpiece. */
export const toHoldingElements = (stored: unknown): HoldingElement[] =>
  fixtureElements.read(stored).map(({ id, kind, name, quantity, frictionCoefficient, acting, si }) => ({
    id,
    kind,
    name,
    quantity,
    frictionCoefficient,
    ratedForceN: si.ratedForceN,
    ratedPressurePa: si.ratedPressurePa,
    leastWorkingPressurePa: si.leastWorkingPressurePa,
    acting,
    springForceAtContactN: si.springForceAtContactN,
    forceLimitN: si.forceLimitN,
    places: si.places,
  }));
