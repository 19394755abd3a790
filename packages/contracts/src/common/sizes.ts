import type { QuantityKind } from '@repo/quantity';
import { z } from 'zod';

/** The largest size of each kind that anybody may enter, SI; beyond it a typing error is certain (common practice, no source). */
const LARGEST_SI: Partial<Record<QuantityKind, number>> = {
  pressure: 2e9,
  length: 1e4,
  force: 1e9,
  time: 3.2e9,
  volume: 1e3,
  temperature: 3e3,
};
const LARGEST_OF_OTHERS = 1e12;
/** Far below anything that is measured here in any SI unit (common practice, no source): quotients and powers of it are still numbers. */
const SMALLEST = 1e-24;

/** Not zero, and so small that what is made of it may be no number any more. */
export const isTiny = (value: number): boolean => value !== 0 && Math.abs(value) < SMALLEST;

/** Whether something of this kind can have this size [SI]. */
export const isPossibleSize = (si: number, kind: QuantityKind): boolean =>
  Number.isFinite(si) && !isTiny(si) && Math.abs(si) <= (LARGEST_SI[kind] ?? LARGEST_OF_OTHERS);

const NO_SIZE = { message: 'a size that can be', params: { code: 'size' } };

/** A plain number that is computed with. */
export const plainNumber = () => z.number().refine((value) => !isTiny(value), NO_SIZE);

const LONGEST = 1e6;
const SHORTEST = 1e-6;
const along = z.number().min(-LONGEST).max(LONGEST);

/** Where something points; how long it is says nothing, but it must be long enough to be divided by. */
export const directionSchema = z
  .strictObject({ x: along, y: along, z: along })
  .refine((direction) => Math.hypot(direction.x, direction.y, direction.z) >= SHORTEST, {
    message: 'a direction that is not zero',
  });
