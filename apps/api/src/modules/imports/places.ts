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

/** `10 mm, 20 mm, 0 mm` as typed; null: it is no point. */
export function readPoint(text: string): Pick<Place, 'x' | 'y' | 'z'> | null {
  if (text.length > LONGEST) return null;
  const [x = null, y = null, z = null, ...more] = text.split(',').map((part) => {
    const read = parseQuantity(part.trim(), { kind: 'length' });
    return read.ok ? { value: read.quantity.value, unit: read.quantity.unit } : null;
  });
  return x === null || y === null || z === null || more.length > 0 ? null : { x, y, z };
}

/** The three numbers of a direction; null: it is none. */
export function readDirection(parts: readonly string[]): Place['direction'] | null {
  const [x = 0, y = 0, z = 0] = parts.map(Number);
  return parts.length === 3 && parts.every((part) => NUMBER.test(part)) ? { x, y, z } : null;
}

function readPlace(text: string): { place: Place; inSi: PlaceInSi } | null {
  if (text.length > LONGEST) return null;
  const [before = '', toward = '', ...more] = text.split(/\s+toward\s+/);
  const point = readPoint(before);
  const direction = readDirection(toward.split(',').map((part) => part.trim()));
  if (more.length > 0 || point === null || direction === null) return null;
  const { x, y, z } = point;
  const { x: dx, y: dy, z: dz } = direction;
  const pointM = [x, y, z].map(({ value, unit }) => toSi(value, unit, 'length'));
  const isFar = [dx, dy, dz].some((along) => Math.abs(along) > LENGTHS.most);
  if (isFar || Math.hypot(dx, dy, dz) < LENGTHS.least) return null;
  if (!pointM.every((length) => isPossibleSize(length, 'length'))) return null;
  const [xM = 0, yM = 0, zM = 0] = pointM;
  return {
    place: { ...point, direction },
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
