import { z } from 'zod';
import { idSchema, instantSchema, localDateSchema, nameSchema, noteSchema, shortTextSchema } from '../common/ids.js';
import { controlBehaviourSchema, UNSAID_BEHAVIOUR } from '../signals/control-behaviour.schema.js';
import { quantityOf, quantityOutSchema } from '../common/quantity.js';

export const machineFormSchema = z.enum(['pallets', 'single-station']);
export const wayInSchema = z.enum(['rotary-union', 'through-table-supply', 'direct']);
export const dispositionSchema = z.enum(['in-service', 'decommissioned', 'sold', 'moved-away']);

const rules = {
  name: nameSchema,
  description: shortTextSchema,
  model: shortTextSchema,
  serial: shortTextSchema,
  madeYear: z.int().min(1950).max(2100).nullable(),
  form: machineFormSchema,
  wayIn: wayInSchema,
  axes: shortTextSchema,
  supplyVoltageV: z.number().min(0).max(1000).nullable(),
  spareInputs: z.int().min(0).max(1000).nullable(),
  spareOutputs: z.int().min(0).max(1000).nullable(),
  /** from the switch opening until the spindle stands */
  controlReaction: quantityOf('time', { zero: true }).nullable(),
  inServiceOn: localDateSchema.nullable(),
  warrantyUntil: localDateSchema.nullable(),
  trainedPersons: noteSchema,
  kitList: noteSchema,
  asShipped: noteSchema,
  asReceived: noteSchema,
  quoteReference: shortTextSchema,
  emergencyStopBehaviour: noteSchema,
  /** of the 24 V supply, as measured */
  controlVoltageV: z.number().gt(0).max(1000).nullable(),
  supplyRatingW: z.number().gt(0).max(1e6).nullable(),
  /** what the supply bears for a moment; null: its maker states none */
  supplyPeakW: z.number().gt(0).max(1e6).nullable(),
  /** all else that the supply feeds, coils left out */
  controlLoadW: z.number().min(0).max(1e6).nullable(),
  controlLoadPeakW: z.number().min(0).max(1e6).nullable(),
  /** asked for above the load, as a share */
  supplyReserveRatio: z.number().min(0).max(1).nullable(),
  /** of the wires at work */
  controlTemperature: quantityOf('temperature').nullable(),
  /** inputs and outputs on commons of their own */
  hasSeparateCommons: z.boolean().nullable(),
  /** highest voltage that its outputs, or the contacts between, bear */
  outputRatingV: z.number().gt(0).max(10_000).nullable(),
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
    madeYear: z.int().nullable(),
    form: machineFormSchema,
    wayIn: wayInSchema,
    axes: z.string(),
    supplyVoltageV: z.number().nullable(),
    spareInputs: z.int().nullable(),
    spareOutputs: z.int().nullable(),
    controlReaction: quantityOutSchema.nullable(),
    inServiceOn: localDateSchema.nullable(),
    warrantyUntil: localDateSchema.nullable(),
    trainedPersons: z.string(),
    kitList: z.string(),
    asShipped: z.string(),
    asReceived: z.string(),
    quoteReference: z.string(),
    emergencyStopBehaviour: z.string(),
    controlVoltageV: z.number().nullable(),
    supplyRatingW: z.number().nullable(),
    supplyPeakW: z.number().nullable(),
    controlLoadW: z.number().nullable(),
    controlLoadPeakW: z.number().nullable(),
    supplyReserveRatio: z.number().nullable(),
    controlTemperature: quantityOutSchema.nullable(),
    hasSeparateCommons: z.boolean().nullable(),
    outputRatingV: z.number().nullable(),
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
  madeYear: rules.madeYear.default(null),
  axes: rules.axes.default(''),
  supplyVoltageV: rules.supplyVoltageV.default(null),
  spareInputs: rules.spareInputs.default(null),
  spareOutputs: rules.spareOutputs.default(null),
  controlReaction: rules.controlReaction.default(null),
  inServiceOn: rules.inServiceOn.default(null),
  warrantyUntil: rules.warrantyUntil.default(null),
  trainedPersons: rules.trainedPersons.default(''),
  kitList: rules.kitList.default(''),
  asShipped: rules.asShipped.default(''),
  asReceived: rules.asReceived.default(''),
  quoteReference: rules.quoteReference.default(''),
  emergencyStopBehaviour: rules.emergencyStopBehaviour.default(''),
  controlVoltageV: rules.controlVoltageV.default(null),
  supplyRatingW: rules.supplyRatingW.default(null),
  supplyPeakW: rules.supplyPeakW.default(null),
  controlLoadW: rules.controlLoadW.default(null),
  controlLoadPeakW: rules.controlLoadPeakW.default(null),
  supplyReserveRatio: rules.supplyReserveRatio.default(null),
  controlTemperature: rules.controlTemperature.default(null),
  hasSeparateCommons: rules.hasSeparateCommons.default(null),
  outputRatingV: rules.outputRatingV.default(null),
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
