import { z } from 'zod';
import { idSchema, instantSchema, nameSchema } from '../common/ids.js';

export const externalReferenceSchema = z.string().trim().min(1).max(200);
const silentAfterSchema = z
  .int()
  .min(60)
  .max(2_592_000)
  .meta({ description: 'seconds without a word until it counts as silent' });

/** A gateway that reports alarm counts. */
export const sourceSchema = z
  .object({
    id: idSchema,
    name: z.string(),
    /** null until its first delivery */
    lastHeardAt: instantSchema.nullable(),
    /** the gateway's clock less ours [s], at its last delivery */
    clockOffsetS: z.number().nullable(),
    silentAfterS: z.int(),
    isSilent: z.boolean(),
    machineCount: z.int(),
    openFindings: z.int(),
    createdAt: instantSchema,
    archivedAt: instantSchema.nullable(),
    version: z.int(),
  })
  .meta({ id: 'Source' });
export type Source = z.infer<typeof sourceSchema>;

/** A secret that the gateway may sign with; its value is shown once, when it is made. */
export const sourceSecretSchema = z
  .object({ id: idSchema, createdAt: instantSchema, expiresAt: instantSchema.nullable(), isLive: z.boolean() })
  .meta({ id: 'SourceSecret' });
export type SourceSecret = z.infer<typeof sourceSecretSchema>;

export const sourceDetailSchema = sourceSchema
  .extend({
    secrets: z.array(sourceSecretSchema).meta({ description: 'without their values; empty but for administrators' }),
    /** times in the last 30 days in which nothing came for longer than `silentAfterS` */
    gaps: z.array(z.object({ from: instantSchema, to: instantSchema.nullable() })),
  })
  .meta({ id: 'SourceDetail' });
export type SourceDetail = z.infer<typeof sourceDetailSchema>;

export const createSourceBodySchema = z.strictObject({
  id: idSchema,
  name: nameSchema,
  silentAfterS: silentAfterSchema.default(7200),
});
export const updateSourceBodySchema = z.strictObject({
  name: nameSchema.optional(),
  silentAfterS: silentAfterSchema.optional(),
  archived: z.boolean().optional(),
});
export const createdSourceSchema = sourceDetailSchema
  .extend({ secret: z.string().meta({ description: 'shown this once: whsec_ and 32 random bytes in base64' }) })
  .meta({ id: 'CreatedSource' });
export const rotateSecretBodySchema = z.strictObject({
  overlapHours: z
    .number()
    .min(0)
    .max(720)
    .default(24)
    .meta({ description: 'how long the secrets before go on working' }),
});

/** What a gateway calls a machine, and the machine that is meant. */
export const sourceMachineSchema = z
  .object({
    id: idSchema,
    sourceId: idSchema,
    externalReference: z.string(),
    machineId: idSchema,
    machineName: z.string(),
    customerName: z.string(),
    createdAt: instantSchema,
  })
  .meta({ id: 'SourceMachine' });
export type SourceMachine = z.infer<typeof sourceMachineSchema>;
export const createSourceMachineBodySchema = z.strictObject({
  id: idSchema,
  externalReference: externalReferenceSchema,
  machineId: idSchema,
});

/** Why an issue was opened for reports that stopped: when they did, and when they came again. */
export const silenceEvidenceSchema = z
  .object({
    sourceId: idSchema,
    sourceName: z.string(),
    silentAfterS: z.int(),
    silences: z.array(z.object({ since: instantSchema, until: instantSchema.nullable() })),
  })
  .meta({ id: 'SilenceEvidence' });
export type SilenceEvidence = z.infer<typeof silenceEvidenceSchema>;
