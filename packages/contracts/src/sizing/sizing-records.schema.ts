import { z } from 'zod';
import { pressureLadderSchema, statusSchema } from '../circuits/circuits.schema.js';
import { subjectSchema } from '../audit/subject.schema.js';
import { idSchema, instantSchema, noteSchema } from '../common/ids.js';

/** Whether a sizing record is still good. */
export const currencySchema = z.enum(['current', 'superseded', 'stale']);
/** What is kept of a change that made sizing records stale. */
export const storedStaleReasonSchema = z.object({
  entity: z.string(),
  entityId: idSchema,
  change: z.string(),
  at: instantSchema,
  byName: z.string(),
  /** of an edit each field with what it held before and holds now; nothing where it was written before this was kept */
  changes: z.record(z.string(), z.unknown()).default({}),
});
export const staleReasonSchema = storedStaleReasonSchema.extend({
  subject: subjectSchema.nullable(),
  /** what records that the changes mention by their ids are called today */
  names: z.record(z.string(), z.string()),
});
export type StaleReason = z.infer<typeof staleReasonSchema>;

export const sizingRecordSummarySchema = z
  .object({
    id: idSchema,
    number: z.int(),
    circuitId: idSchema,
    circuitName: z.string(),
    machineId: idSchema,
    machineName: z.string(),
    basis: z.enum(['as-left', 'target']),
    status: statusSchema,
    currency: currencySchema,
    staleReasons: z.array(staleReasonSchema),
    sha256: z.string(),
    calculationVersion: z.string(),
    runtimeVersion: z.string(),
    note: z.string(),
    createdAt: instantSchema,
    createdByName: z.string(),
  })
  .meta({ id: 'SizingRecordSummary' });
export type SizingRecordSummary = z.infer<typeof sizingRecordSummarySchema>;

/** What the canonical text of a record holds. */
export const sizingDocumentSchema = z.object({
  format: z.enum(['kedge-sizing/1', 'kedge-sizing/2', 'kedge-sizing/3', 'kedge-sizing/4']),
  calculationVersion: z.string(),
  runtimeVersion: z.string(),
  circuit: z.object({ id: idSchema, name: z.string(), machineId: idSchema, machineName: z.string() }),
  basis: z.enum(['as-left', 'target']),
  asOn: instantSchema,
  /** SI, unit last in the name: CircuitFacts of the calculation package; versions 2 and 3 CircuitProofInput, 1 PressureLadderInput */
  input: z.record(z.string(), z.unknown()),
  result: pressureLadderSchema,
});
export type SizingDocument = z.infer<typeof sizingDocumentSchema>;

export const sizingRecordSchema = sizingRecordSummarySchema
  .extend({ document: sizingDocumentSchema, canonicalText: z.string() })
  .meta({ id: 'SizingRecord' });
export type SizingRecord = z.infer<typeof sizingRecordSchema>;

export const createSizingRecordBodySchema = z.strictObject({
  id: idSchema,
  circuitId: idSchema,
  basis: z.enum(['as-left', 'target']).default('target'),
  note: noteSchema.default(''),
});

export const replaySchema = z
  .object({
    same: z.boolean(),
    sha256: z.string(),
    recordedSha256: z.string(),
    calculationVersion: z.string(),
    recordedCalculationVersion: z.string(),
    /** JSON pointers whose values differ, with both values as text */
    differences: z.array(z.object({ pointer: z.string(), recorded: z.string(), replayed: z.string() })),
  })
  .meta({ id: 'Replay' });
export type Replay = z.infer<typeof replaySchema>;
