import { z } from 'zod';

/** A UUID, made by whoever creates the record (version 7, so that ids sort by time). */
export const idSchema = z.uuid().meta({ description: 'UUID version 7, made by whoever creates the record' });
export const instantSchema = z.iso.datetime({ offset: true }).meta({ description: 'RFC 3339 instant' });
export const localDateSchema = z.iso.date().meta({ description: 'calendar day, local to the site' });

/** Path parameters of a single record. */
export const idParamsSchema = z.object({ id: idSchema });
export const nameSchema = z.string().trim().min(1).max(120);
export const noteSchema = z.string().trim().max(4000);
export const shortTextSchema = z.string().trim().max(400);
