import type { CutFigures, HoldingElement } from '../src/holding/required-of-cut.types.js';
import type { Vector3 } from '../src/holding/vector.js';

export const NO_FIGURES = {
  kc11Pa: null,
  mc: null,
  kcPa: null,
  diameterM: null,
  teeth: null,
  feedM: null,
  axialDepthM: null,
  radialWidthM: null,
  engagement: null,
  leadAngleRad: null,
  pitchM: null,
  pointAngleRad: null,
  wear: null,
  radialRatio: null,
  axialForceN: null,
  directions: null,
  thrustFactor: null,
  breakthroughRatio: null,
} as const;
const PART = {
  toolAxis: [0, 0, -1] as Vector3,
  partMassKg: 0,
  centreOfMassM: [0, 0, 0.02] as Vector3,
  gravity: [0, 0, -1] as Vector3,
  safetyFactor: 2,
  coneFacets: 16,
};
export const drilling = (change: Partial<CutFigures> = {}): CutFigures => ({
  ...NO_FIGURES,
  ...PART,
  method: 'drilling',
  kc11Pa: 2.5e9,
  mc: 0.26,
  diameterM: 0.0085,
  feedM: 0.00015,
  pointAngleRad: (118 * Math.PI) / 180,
  thrustFactor: 1,
  breakthroughRatio: 0.3,
  pointsM: [[0, 0, 0.04]],
  ...change,
});
export const milling = (change: Partial<CutFigures> = {}): CutFigures => ({
  ...NO_FIGURES,
  ...PART,
  method: 'milling',
  kc11Pa: 1.16e9,
  mc: 0.26,
  diameterM: 0.063,
  teeth: 6,
  feedM: 0.0002,
  axialDepthM: 0.002,
  radialWidthM: 0.04,
  engagement: 'centred',
  leadAngleRad: Math.PI / 4,
  wear: 1.3,
  radialRatio: 0.4,
  axialForceN: -100,
  directions: 8,
  pointsM: [
    [-0.03, 0, 0.04],
    [0.03, 0, 0.04],
  ],
  ...change,
});

/** A pallet that moves so slowly that nothing of it is felt. */
export const STILL = { indexingSpeedRadPerS: 0, indexingAccelerationRadPerS2: 0 } as const;

export const RADIUS = 0.08;
export const onCircle = (angle: number): Vector3 => [RADIUS * Math.cos(angle), RADIUS * Math.sin(angle), 0];
export const locators = (change: Partial<HoldingElement> = {}): HoldingElement => ({
  id: 'rest',
  name: 'Rest pads',
  kind: 'locator',
  quantity: 3,
  ratedForceN: null,
  ratedPressurePa: null,
  leastWorkingPressurePa: null,
  frictionCoefficient: 0.2,
  forceLimitN: null,
  places: [0, 2, 4].map((third) => ({ pointM: onCircle((third * Math.PI) / 3), direction: [0, 0, 1] as Vector3 })),
  ...change,
});
export const clamp = (change: Partial<HoldingElement> = {}): HoldingElement => ({
  id: 'clamp',
  name: 'Clamp',
  kind: 'clamp',
  quantity: 1,
  ratedForceN: 8000,
  ratedPressurePa: 250e5,
  leastWorkingPressurePa: null,
  frictionCoefficient: 0.2,
  forceLimitN: null,
  places: [{ pointM: [0, 0, 0.04], direction: [0, 0, -1] }],
  ...change,
});

export const support = (change: Partial<HoldingElement> = {}): HoldingElement => ({
  ...locators(),
  id: 'support',
  name: 'Support',
  kind: 'support',
  quantity: 1,
  ratedForceN: 4000,
  ratedPressurePa: 250e5,
  leastWorkingPressurePa: 0,
  places: [{ pointM: [0, 0, 0], direction: [0, 0, 1] }],
  ...change,
});
