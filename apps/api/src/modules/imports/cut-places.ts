import { cutSchema, type Cut, type CutEntry } from '@repo/contracts';
import { readDirection, readPoint } from './places.js';

type Point = Cut['points'][number];
type Direction = NonNullable<Cut['gravity']>;
type Placed = Point | Direction;

const POINT = '10 mm, 20 mm, 0 mm';
const DIRECTION = '0, 0, -1';
/** How a cell of each kind is written. */
export const WRITTEN: Readonly<Partial<Record<CutEntry['type'], string>>> = {
  point: POINT,
  points: `${POINT}, and a semicolon between two`,
  direction: DIRECTION,
  directions: `${DIRECTION}, and a semicolon between two`,
};

const written = (along: Point['x'] | number): string =>
  typeof along === 'number' ? String(along) : `${along.value} ${along.unit}`;

/** `10 mm, 20 mm, 0 mm; 30 mm, 20 mm, 0 mm`; a direction without units. */
export const toPlaceText = (placed: readonly Placed[]): string =>
  placed.map(({ x, y, z }) => [x, y, z].map(written).join(', ')).join('; ');

const { points: pointsSchema, otherGravities: directionsSchema } = cutSchema.shape;

/** What a cell names, as typed; null: nothing of the kind, or more than may be. */
export function readPlaced(
  text: string,
  { type, most }: Extract<CutEntry, { most: number; type: string }>,
): Placed[] | null {
  const parts = text.split(';').flatMap((part) => (part.trim() === '' ? [] : [part.trim()]));
  const isPoint = type === 'point' || type === 'points';
  const read = parts.map((part) => (isPoint ? readPoint(part) : readDirection(part.split(/[\s,]+/))));
  const whole = read.flatMap((one) => one ?? []);
  if (whole.length === 0 || whole.length !== read.length || whole.length > most) return null;
  const checked = (isPoint ? pointsSchema : directionsSchema).safeParse(whole);
  return checked.success ? whole : null;
}
