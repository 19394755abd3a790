import { MACHINE_CONTROL, MACHINE_MAKE, MACHINE_SUPPLY } from '@repo/calc/figures';
import { z } from 'zod';
import { answersOf, defaultsOf, rulesOf } from '../common/figure-rules.js';
import { idSchema, instantSchema, localDateSchema, nameSchema, noteSchema, shortTextSchema } from '../common/ids.js';
import { controlBehaviourSchema, UNSAID_BEHAVIOUR } from '../signals/control-behaviour.schema.js';

export const machineFormSchema = z.enum(['pallets', 'single-station']);
export const wayInSchema = z.enum(['rotary-union', 'through-table-supply', 'direct']);
export const dispositionSchema = z.enum(['in-service', 'decommissioned', 'sold', 'moved-away']);

const rules = {
  name: nameSchema,
  description: shortTextSchema,
  model: shortTextSchema,
  serial: shortTextSchema,
  ...rulesOf(MACHINE_MAKE),
  form: machineFormSchema,
  wayIn: wayInSchema,
  axes: shortTextSchema,
  ...rulesOf(MACHINE_CONTROL),
  inServiceOn: localDateSchema.nullable(),
  warrantyUntil: localDateSchema.nullable(),
  trainedPersons: noteSchema,
  kitList: noteSchema,
  asShipped: noteSchema,
  asReceived: noteSchema,
  quoteReference: shortTextSchema,
  emergencyStopBehaviour: noteSchema,
  ...rulesOf(MACHINE_SUPPLY),
  controlBehaviour: controlBehaviourSchema,
};

export const stationSchema = z
  .object({ id: idSchema, machineId: idSchema, name: z.string(), position: z.int(), version: z.int() })
  .meta({ id: 'Station' });
export type Station = z.infer<typeof stationSchema>;

export const machineSchema = z
  .object({
    id: idSchema,
    customerId: idSchema,
    customerName: z.string(),
    siteId: idSchema,
    siteName: z.string(),
    place: z.string(),
    timeZone: z.string(),
    name: z.string(),
    description: z.string(),
    model: z.string(),
    serial: z.string(),
    ...answersOf(MACHINE_MAKE),
    form: machineFormSchema,
    wayIn: wayInSchema,
    axes: z.string(),
    ...answersOf(MACHINE_CONTROL),
    inServiceOn: localDateSchema.nullable(),
    warrantyUntil: localDateSchema.nullable(),
    trainedPersons: z.string(),
    kitList: z.string(),
    asShipped: z.string(),
    asReceived: z.string(),
    quoteReference: z.string(),
    emergencyStopBehaviour: z.string(),
    ...answersOf(MACHINE_SUPPLY),
    controlBehaviour: controlBehaviourSchema,
    disposition: dispositionSchema,
    dispositionOn: localDateSchema.nullable(),
    predecessorMachineId: idSchema.nullable(),
    stations: z.array(stationSchema),
    createdAt: instantSchema,
    archivedAt: instantSchema.nullable(),
    version: z.int(),
  })
  .meta({ id: 'Machine' });
export type Machine = z.infer<typeof machineSchema>;

export const createMachineBodySchema = z.strictObject({
  id: idSchema,
  siteId: idSchema,
  name: rules.name,
  form: rules.form,
  wayIn: rules.wayIn,
  stations: z
    .array(z.strictObject({ id: idSchema, name: nameSchema }))
    .min(1)
    .max(40),
  description: rules.description.default(''),
  model: rules.model.default(''),
  serial: rules.serial.default(''),
  ...defaultsOf(MACHINE_MAKE),
  axes: rules.axes.default(''),
  ...defaultsOf(MACHINE_CONTROL),
  inServiceOn: rules.inServiceOn.default(null),
  warrantyUntil: rules.warrantyUntil.default(null),
  trainedPersons: rules.trainedPersons.default(''),
  kitList: rules.kitList.default(''),
  asShipped: rules.asShipped.default(''),
  asReceived: rules.asReceived.default(''),
  quoteReference: rules.quoteReference.default(''),
  emergencyStopBehaviour: rules.emergencyStopBehaviour.default(''),
  ...defaultsOf(MACHINE_SUPPLY),
  controlBehaviour: rules.controlBehaviour.default(UNSAID_BEHAVIOUR),
  predecessorMachineId: idSchema.nullable().default(null),
});
export const updateMachineBodySchema = z
  .strictObject({
    ...rules,
    siteId: idSchema,
    disposition: dispositionSchema,
    dispositionOn: localDateSchema.nullable(),
    archived: z.boolean(),
  })
  .partial();
