import { z } from 'zod';
import { lineOf, textOf } from './texts.js';

/** A UUID, made by whoever creates the record (version 7, so that ids sort by time). */
export const idSchema = z.uuid().meta({ description: 'UUID version 7, made by whoever creates the record' });
/** Nothing that is recorded here was before the one or will be after the other; what is, was mistyped. */
const isPlausibleYear = (text: string): boolean => text >= '1900' && text < '2201';
/** By the clock of UTC, in which it is kept and given out again. */
const FIRST_MS = Date.UTC(1900, 0);
const BEYOND_MS = Date.UTC(2201, 0);
const isPlausibleInstant = (text: string): boolean => {
  const at = Date.parse(text);
  return at >= FIRST_MS && at < BEYOND_MS;
};
const YEARS = { message: 'a year from 1900 to 2200' };

export const instantSchema = z.iso
  .datetime({ offset: true })
  .refine(isPlausibleInstant, YEARS)
  .meta({ description: 'RFC 3339 instant, of the years 1900 to 2200' });
export const localDateSchema = z.iso
  .date()
  .refine(isPlausibleYear, YEARS)
  .meta({ description: 'calendar day, local to the site, of the years 1900 to 2200' });

/** Path parameters of a single record. */
export const idParamsSchema = z.object({ id: idSchema });
export const nameSchema = lineOf(120);
export const noteSchema = textOf(4000);
export const shortTextSchema = textOf(400);
