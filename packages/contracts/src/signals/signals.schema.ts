import { z } from 'zod';
import { idSchema, instantSchema, noteSchema, shortTextSchema } from '../common/ids.js';
import { quantityOf, quantityOutSchema } from '../common/quantity.js';
import { plainNumber } from '../common/sizes.js';
import { lineOf } from '../common/texts.js';

const mark = lineOf(60);
const volts = plainNumber().min(0).max(10_000);
const amperes = plainNumber().gt(0).max(10_000);
const life = { createdAt: instantSchema, archivedAt: instantSchema.nullable(), version: z.int() };

// --- M-codes ------------------------------------------------------------------------------------------------------------

export const mCodeActionSchema = z.enum(['clamp', 'unclamp', 'other']);
const mCodeRules = {
  code: mark,
  action: mCodeActionSchema,
  /** the program goes on only when the switch has answered */
  waitsForAnswer: z.boolean().nullable(),
  timeOut: quantityOf('time').nullable(),
  note: noteSchema,
};
export const mCodeSchema = z
  .object({
    id: idSchema,
    customerId: idSchema,
    machineId: idSchema,
    stationId: idSchema.nullable(),
    code: z.string(),
    action: mCodeActionSchema,
    waitsForAnswer: z.boolean().nullable(),
    timeOut: quantityOutSchema.nullable(),
    note: z.string(),
    ...life,
  })
  .meta({ id: 'MCode' });
export type MCode = z.infer<typeof mCodeSchema>;
export const createMCodeBodySchema = z.strictObject({
  id: idSchema,
  machineId: idSchema,
  stationId: idSchema.nullable().default(null),
  code: mCodeRules.code,
  action: mCodeRules.action,
  waitsForAnswer: mCodeRules.waitsForAnswer.default(null),
  timeOut: mCodeRules.timeOut.default(null),
  note: mCodeRules.note.default(''),
});
export const updateMCodeBodySchema = z.strictObject({ ...mCodeRules, archived: z.boolean() }).partial();

// --- signals ------------------------------------------------------------------------------------------------------------

export const signalDirectionSchema = z.enum(['output', 'input']);
export const actsOnSchema = z.enum(['clamp-coil', 'unclamp-coil', 'none']);
export const suppressionSchema = z.enum(['none', 'diode', 'transient-suppressor', 'varistor', 'rc']);
const signalRules = {
  mCodeId: idSchema.nullable(),
  /** the switch that an input reads */
  componentId: idSchema.nullable(),
  name: mark,
  address: shortTextSchema,
  actsOn: actsOnSchema,
  relay: shortTextSchema,
  contact: shortTextSchema,
  alarm: shortTextSchema,
  reaction: shortTextSchema,
  /** across the coil; `none`: there is none */
  suppression: suppressionSchema.nullable(),
  /** voltage across the suppressor while the current falls */
  suppressionVoltageV: volts.nullable(),
  isPolarityRight: z.boolean().nullable(),
  /** stays on after the movement; false: a pulse */
  isHeldOn: z.boolean().nullable(),
  note: noteSchema,
};
export const signalSchema = z
  .object({
    id: idSchema,
    customerId: idSchema,
    machineId: idSchema,
    circuitId: idSchema.nullable(),
    mCodeId: idSchema.nullable(),
    componentId: idSchema.nullable(),
    direction: signalDirectionSchema,
    name: z.string(),
    address: z.string(),
    actsOn: actsOnSchema,
    relay: z.string(),
    contact: z.string(),
    alarm: z.string(),
    reaction: z.string(),
    suppression: suppressionSchema.nullable(),
    suppressionVoltageV: z.number().nullable(),
    isPolarityRight: z.boolean().nullable(),
    isHeldOn: z.boolean().nullable(),
    note: z.string(),
    ...life,
  })
  .meta({ id: 'Signal' });
export type Signal = z.infer<typeof signalSchema>;
export const createSignalBodySchema = z.strictObject({
  id: idSchema,
  machineId: idSchema,
  circuitId: idSchema.nullable().default(null),
  mCodeId: signalRules.mCodeId.default(null),
  componentId: signalRules.componentId.default(null),
  direction: signalDirectionSchema,
  name: signalRules.name,
  address: signalRules.address.default(''),
  actsOn: signalRules.actsOn.default('none'),
  relay: signalRules.relay.default(''),
  contact: signalRules.contact.default(''),
  alarm: signalRules.alarm.default(''),
  reaction: signalRules.reaction.default(''),
  suppression: signalRules.suppression.default(null),
  suppressionVoltageV: signalRules.suppressionVoltageV.default(null),
  isPolarityRight: signalRules.isPolarityRight.default(null),
  isHeldOn: signalRules.isHeldOn.default(null),
  note: signalRules.note.default(''),
});
export const updateSignalBodySchema = z.strictObject({ ...signalRules, archived: z.boolean() }).partial();

// --- wires --------------------------------------------------------------------------------------------------------------

const wireRules = {
  number: mark,
  fromTerminal: mark,
  toTerminal: mark,
  colour: shortTextSchema,
  crossSection: quantityOf('area').nullable(),
  length: quantityOf('length').nullable(),
  insulationVoltageV: volts.nullable(),
  /** of the protective device before it */
  protectionA: amperes.nullable(),
  /** largest protection that this conductor bears, by the local code */
  conductorLimitA: amperes.nullable(),
  /** highest voltage of any core in its cable */
  highestInCableV: volts.nullable(),
  note: noteSchema,
};
export const wireSchema = z
  .object({
    id: idSchema,
    customerId: idSchema,
    signalId: idSchema,
    number: z.string(),
    fromTerminal: z.string(),
    toTerminal: z.string(),
    colour: z.string(),
    crossSection: quantityOutSchema.nullable(),
    length: quantityOutSchema.nullable(),
    insulationVoltageV: z.number().nullable(),
    protectionA: z.number().nullable(),
    conductorLimitA: z.number().nullable(),
    highestInCableV: z.number().nullable(),
    note: z.string(),
    ...life,
  })
  .meta({ id: 'Wire' });
export type Wire = z.infer<typeof wireSchema>;
export const createWireBodySchema = z.strictObject({
  id: idSchema,
  signalId: idSchema,
  number: wireRules.number,
  fromTerminal: wireRules.fromTerminal,
  toTerminal: wireRules.toTerminal,
  colour: wireRules.colour.default(''),
  crossSection: wireRules.crossSection.default(null),
  length: wireRules.length.default(null),
  insulationVoltageV: wireRules.insulationVoltageV.default(null),
  protectionA: wireRules.protectionA.default(null),
  conductorLimitA: wireRules.conductorLimitA.default(null),
  highestInCableV: wireRules.highestInCableV.default(null),
  note: wireRules.note.default(''),
});
export const updateWireBodySchema = z.strictObject({ ...wireRules, archived: z.boolean() }).partial();
