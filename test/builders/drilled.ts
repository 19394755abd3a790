import { uuidv7 } from 'uuidv7';
import { aClamp } from './world.js';

export const mm = (value: number) => ({ value, unit: 'mm' });
/** Of the circle on which the pads lie [mm]. */
export const RADIUS = 80;
const pad = (third: number) => ({
  x: mm(RADIUS * Math.cos((third * 2 * Math.PI) / 3)),
  y: mm(RADIUS * Math.sin((third * 2 * Math.PI) / 3)),
  z: mm(0),
  direction: { x: 0, y: 0, z: 1 },
});
/** One clamp in the middle of three rest pads. */
export const onRestPads = (change: object = {}) => [
  {
    ...aClamp(),
    quantity: 1,
    ratedForce: { value: 8, unit: 'kN' },
    frictionCoefficient: 0.2,
    places: [{ x: mm(0), y: mm(0), z: mm(40), direction: { x: 0, y: 0, z: -1 } }],
    ...change,
  },
  {
    id: uuidv7(),
    kind: 'locator',
    name: 'Rest pads',
    quantity: 3,
    frictionCoefficient: 0.2,
    places: [0, 1, 2].map(pad),
  },
];
/** A drill of 8.5 mm in 42CrMo4, kc1.1 from memory: 2500 N/mm². */
export const aDrilling = {
  method: 'drilling',
  materialGroup: '42crmo4',
  kc11: { value: 2500, unit: 'N/mm2' },
  mc: 0.26,
  diameter: mm(8.5),
  feed: mm(0.15),
  pointAngle: { value: 118, unit: 'deg' },
  thrustFactor: 1,
  breakthroughRatio: 0.3,
  points: [{ x: mm(0), y: mm(0), z: mm(40) }],
  toolAxis: { x: 0, y: 0, z: -1 },
  workpieceMass: { value: 0, unit: 'kg' },
  centreOfMass: { x: mm(0), y: mm(0), z: mm(20) },
  gravity: { x: 0, y: 0, z: -1 },
  safetyFactor: 2,
  coneFacets: 16,
};
