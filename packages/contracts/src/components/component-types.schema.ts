import { z } from 'zod';
import { idSchema, instantSchema, nameSchema, noteSchema, shortTextSchema } from '../common/ids.js';
import { componentKindSchema } from './component-kind.schema.js';
import { checkFigures, figuresInSchema, figuresOutSchema } from './figures.schema.js';

export const componentTypeSchema = z
  .object({
    id: idSchema,
    kind: componentKindSchema,
    name: z.string(),
    partNumber: z.string(),
    figures: figuresOutSchema,
    note: z.string(),
    revision: z.int(),
    createdAt: instantSchema,
    archivedAt: instantSchema.nullable(),
    version: z.int(),
  })
  .meta({ id: 'ComponentType' });
export type ComponentType = z.infer<typeof componentTypeSchema>;

export const createComponentTypeBodySchema = z
  .strictObject({
    id: idSchema,
    kind: componentKindSchema,
    name: nameSchema,
    partNumber: shortTextSchema.default(''),
    figures: figuresInSchema.default({}),
    note: noteSchema.default(''),
  })
  .superRefine((body, context) =>
    checkFigures(body.figures, body.kind, (issue) => context.addIssue({ code: 'custom', ...issue })),
  );

/** The kind stays: a component of another kind is another type. Figures replace the ones before as a whole. */
export const updateComponentTypeBodySchema = z.strictObject({
  name: nameSchema.optional(),
  partNumber: shortTextSchema.optional(),
  figures: figuresInSchema.optional(),
  note: noteSchema.optional(),
  archived: z.boolean().optional(),
  /** why; kept with the revision */
  reason: shortTextSchema.min(1),
});

export const componentTypeRevisionSchema = z.object({
  revision: z.int(),
  name: z.string(),
  figures: figuresOutSchema,
  reason: z.string(),
  recordedAt: instantSchema,
});

export const affectedCircuitSchema = z
  .object({
    circuitId: idSchema,
    circuitName: z.string(),
    machineId: idSchema,
    machineName: z.string(),
    customerId: idSchema,
    customerName: z.string(),
    place: z.string(),
    designation: z.string(),
    lot: z.string(),
    serial: z.string(),
    validFrom: instantSchema,
    validTo: instantSchema.nullable(),
    disposition: z.string(),
    status: z.string().nullable(),
  })
  .meta({ id: 'AffectedCircuit' });
export type AffectedCircuit = z.infer<typeof affectedCircuitSchema>;
