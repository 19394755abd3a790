import { isPossibleSize } from '@repo/contracts';
import { parseQuantity, toSi } from '@repo/quantity';
import type { StoredElement } from '../../documents/fixture-elements.js';

type Place = StoredElement['places'][number];
type PlaceInSi = StoredElement['si']['places'][number];

const MOST = 200;
/** Six numbers of seventeen digits with their units are shorter. */
const LONGEST = 400;
/** Of a direction: it says where to, not how far. */
const LENGTHS = { least: 1e-6, most: 1e6 };

/** `10 mm, 20 mm, 0 mm toward 0, 0, -1`: where a piece touches, and its direction into the workpiece. */
export const toText = (places: readonly Place[]): string =>
  places
    .map(({ x, y, z, direction }) => {
      const point = [x, y, z].map(({ value, unit }) => `${value} ${unit}`).join(', ');
      return `${point} toward ${direction.x}, ${direction.y}, ${direction.z}`;
    })
    .join('; ');

const NUMBER = /^[+-]?\d+(\.\d+)?(e[+-]?\d+)?$/i;

function readPlace(text: string): { place: Place; inSi: PlaceInSi } | null {
  if (text.length > LONGEST) return null;
  const [point = '', toward = '', ...more] = text.split(/\s+toward\s+/);
  const lengths = point.split(',').map((part) => parseQuantity(part.trim(), { kind: 'length' }));
  const parts = toward.split(',').map((part) => part.trim());
  const [x, y, z] = lengths.map((one) => (one.ok ? { value: one.quantity.value, unit: one.quantity.unit } : null));
  if (more.length > 0 || lengths.length !== 3 || parts.length !== 3 || !parts.every((part) => NUMBER.test(part))) {
    return null;
  }
  if (x === undefined || y === undefined || z === undefined || x === null || y === null || z === null) return null;
  const [dx = 0, dy = 0, dz = 0] = parts.map(Number);
  const pointM = [x, y, z].map(({ value, unit }) => toSi(value, unit, 'length'));
  const isFar = [dx, dy, dz].some((along) => Math.abs(along) > LENGTHS.most);
  if (isFar || Math.hypot(dx, dy, dz) < LENGTHS.least) return null;
  if (!pointM.every((length) => isPossibleSize(length, 'length'))) return null;
  const [xM = 0, yM = 0, zM = 0] = pointM;
  return {
    place: { x, y, z, direction: { x: dx, y: dy, z: dz } },
    inSi: { pointM: [xM, yM, zM], direction: [dx, dy, dz] },
  };
}

/** The places that a cell names, as typed and in SI; null: it names none, or too many. */
export function readPlaces(text: string): { places: Place[]; inSi: PlaceInSi[] } | null {
  const read = text
    .split(';')
    .filter((part) => part.trim() !== '')
    .map((part) => readPlace(part.trim()));
  const whole = read.flatMap((one) => one ?? []);
  if (whole.length !== read.length || read.length > MOST) return null;
  return { places: whole.map(({ place }) => place), inSi: whole.map(({ inSi }) => inSi) };
}
