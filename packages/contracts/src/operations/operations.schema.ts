import { z } from 'zod';
import { idSchema, instantSchema, nameSchema, shortTextSchema } from '../common/ids.js';
import { quantityOf, quantityOutSchema } from '../common/quantity.js';
import { cutSchema, requiredOfCutSchema, typedRequiredSchema } from './cut.schema.js';

const rules = {
  /** computed: from the cut and the fixture, again whenever either changes; typed: as given here */
  requiredBasis: z.enum(['typed', 'computed']),
  cut: cutSchema.nullable(),
  number: z.int().min(1).max(9999),
  name: nameSchema,
  tool: shortTextSchema,
  material: shortTextSchema,
  /** least pressure at which the operation is held, where it is typed */
  requiredPressure: quantityOf('pressure').nullable(),
  requiredSource: shortTextSchema,
  workpieceLimit: quantityOf('pressure').nullable(),
  workpieceNotLimiting: z.boolean(),
  notLimitingReason: shortTextSchema,
  notLimitingBy: shortTextSchema,
};

export const operationSchema = z
  .object({
    id: idSchema,
    customerId: idSchema,
    fixtureId: idSchema,
    number: z.int(),
    name: z.string(),
    tool: z.string(),
    material: z.string(),
    requiredPressure: quantityOutSchema.nullable(),
    requiredBasis: z.enum(['typed', 'computed']),
    requiredSource: z.string(),
    cut: cutSchema.nullable(),
    /** computed: how it came about, or why it did not */
    computed: requiredOfCutSchema.nullable(),
    /** what was typed before it was computed */
    typedRequired: typedRequiredSchema.nullable(),
    workpieceLimit: quantityOutSchema.nullable(),
    workpieceNotLimiting: z.boolean(),
    notLimitingReason: z.string(),
    notLimitingBy: z.string(),
    validFrom: instantSchema,
    validTo: instantSchema.nullable(),
    recordedAt: instantSchema,
    version: z.int(),
  })
  .meta({ id: 'Operation' });
export type Operation = z.infer<typeof operationSchema>;

const limitRule = (body: {
  workpieceNotLimiting?: boolean | undefined;
  workpieceLimit?: unknown;
  notLimitingReason?: string | undefined;
  notLimitingBy?: string | undefined;
}): boolean =>
  body.workpieceNotLimiting !== true ||
  ((body.workpieceLimit ?? null) === null &&
    (body.notLimitingReason ?? '') !== '' &&
    (body.notLimitingBy ?? '') !== '');
const cutRule = (body: { requiredBasis?: string | undefined; cut?: unknown }): boolean =>
  body.requiredBasis !== 'computed' || (body.cut ?? null) !== null;
const cutMessage = { path: ['cut'], message: 'a cut to compute from' };
const limitMessage = {
  path: ['workpieceNotLimiting'],
  message: 'a name and a reason, and no limit beside it',
};

export const createOperationBodySchema = z
  .strictObject({
    id: idSchema,
    fixtureId: idSchema,
    number: rules.number,
    name: rules.name,
    tool: rules.tool.default(''),
    material: rules.material.default(''),
    requiredBasis: rules.requiredBasis.default('typed'),
    cut: rules.cut.default(null),
    requiredPressure: rules.requiredPressure.default(null),
    requiredSource: rules.requiredSource.default(''),
    workpieceLimit: rules.workpieceLimit.default(null),
    workpieceNotLimiting: rules.workpieceNotLimiting.default(false),
    notLimitingReason: rules.notLimitingReason.default(''),
    notLimitingBy: rules.notLimitingBy.default(''),
    validFrom: instantSchema,
  })
  .refine(cutRule, cutMessage)
  .refine(limitRule, limitMessage);

/** A change ends the operation as it was and begins it anew from `validFrom`: the past stays as it was. */
export const updateOperationBodySchema = z
  .strictObject({ ...rules, validFrom: instantSchema, /** true: it is no longer cut */ ended: z.boolean() })
  .partial()
  .refine(limitRule, limitMessage);
