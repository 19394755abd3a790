import { z } from 'zod';
import { idSchema, instantSchema, localDateSchema, shortTextSchema } from '../common/ids.js';
import { lineOf } from '../common/texts.js';
import { componentKindSchema } from './component-kind.schema.js';
import { figuresInSchema, figuresOutSchema } from './figures.schema.js';

/** item designation, ISO 1219-2, such as H1.4 */
export const designationSchema = lineOf(40);
export const lineFunctionSchema = z.enum(['supply', 'tank', 'clamp', 'unclamp']);
export const sensingSchema = z.enum(['pump', 'manifold', 'clamp-line']);

export const installedComponentSchema = z
  .object({
    id: idSchema,
    customerId: idSchema,
    machineId: idSchema,
    powerUnitId: idSchema.nullable(),
    circuitId: idSchema.nullable(),
    componentTypeId: idSchema,
    componentTypeName: z.string(),
    kind: componentKindSchema,
    designation: z.string(),
    lineFunctions: z.array(lineFunctionSchema),
    serial: z.string(),
    lot: z.string(),
    madeOn: localDateSchema.nullable(),
    /** figures of this very component; they go before its type's */
    figures: figuresOutSchema,
    /** the figures that count: its own, else its type's */
    effectiveFigures: figuresOutSchema,
    sensing: sensingSchema.nullable(),
    /** of a relief valve in the clamp line: it sits between what shuts the clamps off and the clamps; null: nobody has said */
    isBeyondShutOff: z.boolean().nullable(),
    validFrom: instantSchema,
    validTo: instantSchema.nullable(),
    reason: z.string(),
    removedReason: z.string(),
    recordedAt: instantSchema,
    version: z.int(),
  })
  .meta({ id: 'InstalledComponent' });
export type InstalledComponent = z.infer<typeof installedComponentSchema>;

export const installComponentBodySchema = z
  .strictObject({
    id: idSchema,
    machineId: idSchema,
    powerUnitId: idSchema.nullable().default(null),
    circuitId: idSchema.nullable().default(null),
    componentTypeId: idSchema,
    designation: designationSchema,
    lineFunctions: z.array(lineFunctionSchema).max(4).default([]),
    serial: shortTextSchema.default(''),
    lot: shortTextSchema.default(''),
    madeOn: localDateSchema.nullable().default(null),
    figures: figuresInSchema.default({}),
    sensing: sensingSchema.nullable().default(null),
    isBeyondShutOff: z.boolean().nullable().default(null),
    validFrom: instantSchema,
    reason: shortTextSchema.default(''),
    /** the component that it takes the place of; its period ends where this one begins */
    replacesId: idSchema.nullable().default(null),
  })
  .refine((body) => (body.powerUnitId === null) !== (body.circuitId === null), {
    path: ['circuitId'],
    message: 'either a power unit or a circuit',
  });

export const removeComponentBodySchema = z.strictObject({ validTo: instantSchema, reason: shortTextSchema.min(1) });
