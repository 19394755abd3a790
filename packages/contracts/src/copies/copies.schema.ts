import { z } from 'zod';
import { designationSchema } from '../components/installed-components.schema.js';
import { idSchema, instantSchema, nameSchema, shortTextSchema } from '../common/ids.js';

/** Why the copy is there, and when its components were fitted. */
const circumstances = {
  fittedFrom: instantSchema.meta({ description: 'when the components of the copy were fitted' }),
  /** said of each component and of each target that is released with the copy */
  reason: shortTextSchema.min(1),
};

const designations = z
  .array(z.strictObject({ likeComponentId: idSchema, designation: designationSchema }))
  .max(1000)
  .default([])
  .meta({ description: 'on one machine no two components bear the same; those that are not named keep theirs' });

/** What differs on a second like machine. Stations that are not named are left out, with all that hangs on them. */
export const copyMachineBodySchema = z.strictObject({
  id: idSchema,
  siteId: idSchema,
  name: nameSchema,
  serial: shortTextSchema.default(''),
  stations: z
    .array(z.strictObject({ id: idSchema, likeStationId: idSchema, name: nameSchema }))
    .min(1)
    .max(40),
  ...circumstances,
});

export const copyCircuitBodySchema = z.strictObject({
  id: idSchema,
  powerUnitId: idSchema,
  stationId: idSchema,
  name: nameSchema,
  designations,
  ...circumstances,
});

/** Where the components of a like circuit are fitted once more. The id is the copy's own: the ids of its components are made from it. */
export const copyComponentsOfCircuitBodySchema = z.strictObject({
  id: idSchema,
  circuitId: idSchema,
  designations,
  ...circumstances,
});

export const copyComponentsOfPowerUnitBodySchema = z.strictObject({
  id: idSchema,
  powerUnitId: idSchema,
  designations,
  ...circumstances,
});

/** The machine that takes over a control, and for which station of the original each of its own stands. */
export const copyControlBodySchema = z.strictObject({
  id: idSchema,
  machineId: idSchema,
  stations: z
    .array(z.strictObject({ stationId: idSchema, likeStationId: idSchema }))
    .min(1)
    .max(40),
});

export const copyFixtureBodySchema = z.strictObject({
  id: idSchema,
  customerId: idSchema,
  name: nameSchema,
  operationsFrom: instantSchema.meta({ description: 'from when on the operations of the copy are cut' }),
});
