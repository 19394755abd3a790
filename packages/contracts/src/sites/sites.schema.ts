import { z } from 'zod';
import { idSchema, instantSchema, nameSchema, noteSchema, shortTextSchema } from '../common/ids.js';

/** An IANA time zone that this runtime knows. */
export const timeZoneSchema = z
  .string()
  .max(60)
  .refine(
    (zone) => {
      try {
        new Intl.DateTimeFormat('en', { timeZone: zone });
        return true;
      } catch (error) {
        if (error instanceof RangeError) return false;
        throw error;
      }
    },
    { message: 'an IANA time zone such as Europe/Lisbon' },
  );
const clockSchema = z.string().regex(/^([01]\d|2[0-3]):[0-5]\d$/, 'a time of day such as 07:30');
export const accessWindowSchema = z.strictObject({
  /** ISO 8601: Monday is 1 */
  weekday: z.int().min(1).max(7),
  from: clockSchema,
  to: clockSchema,
});

const rules = {
  name: nameSchema,
  address: shortTextSchema,
  place: nameSchema,
  country: shortTextSchema,
  timeZone: timeZoneSchema,
  latitude: z.number().min(-90).max(90).nullable(),
  longitude: z.number().min(-180).max(180).nullable(),
  accessWindows: z.array(accessWindowSchema).max(28),
  note: noteSchema,
};

export const siteSchema = z
  .object({
    id: idSchema,
    customerId: idSchema,
    customerName: z.string(),
    name: z.string(),
    address: z.string(),
    place: z.string(),
    country: z.string(),
    timeZone: z.string(),
    latitude: z.number().nullable(),
    longitude: z.number().nullable(),
    accessWindows: z.array(accessWindowSchema),
    note: z.string(),
    createdAt: instantSchema,
    archivedAt: instantSchema.nullable(),
    version: z.int(),
  })
  .meta({ id: 'Site' });
export type Site = z.infer<typeof siteSchema>;

export const createSiteBodySchema = z.strictObject({
  id: idSchema,
  customerId: idSchema,
  name: rules.name,
  place: rules.place,
  timeZone: rules.timeZone,
  address: rules.address.default(''),
  country: rules.country.default(''),
  latitude: rules.latitude.default(null),
  longitude: rules.longitude.default(null),
  accessWindows: rules.accessWindows.default([]),
  note: rules.note.default(''),
});
export const updateSiteBodySchema = z.strictObject({ ...rules, archived: z.boolean() }).partial();
