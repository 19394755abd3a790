import { CHECK_CODES } from '@repo/calc/checks';
import { CIRCUIT_FIGURES } from '@repo/calc/figures';
import { z } from 'zod';
import { answersOf, defaultsOf, rulesOf } from '../common/figure-rules.js';
import { idSchema, instantSchema, nameSchema, noteSchema } from '../common/ids.js';

export const statusSchema = z.enum(['holds', 'marginal', 'fails', 'unproven', 'not-applicable']);
export type Status = z.infer<typeof statusSchema>;

const rules = {
  name: nameSchema,
  purpose: nameSchema,
  ...rulesOf(CIRCUIT_FIGURES),
  note: noteSchema,
};

export const circuitSchema = z
  .object({
    id: idSchema,
    customerId: idSchema,
    machineId: idSchema,
    powerUnitId: idSchema,
    stationId: idSchema,
    stationName: z.string(),
    name: z.string(),
    purpose: z.string(),
    ...answersOf(CIRCUIT_FIGURES),
    note: z.string(),
    createdAt: instantSchema,
    archivedAt: instantSchema.nullable(),
    version: z.int(),
  })
  .meta({ id: 'Circuit' });
export type Circuit = z.infer<typeof circuitSchema>;

export const createCircuitBodySchema = z.strictObject({
  id: idSchema,
  powerUnitId: idSchema,
  stationId: idSchema,
  name: rules.name,
  purpose: rules.purpose.default('clamping'),
  ...defaultsOf(CIRCUIT_FIGURES),
  note: rules.note.default(''),
});
export const updateCircuitBodySchema = z.strictObject({ ...rules, archived: z.boolean() }).partial();

// --- the pressure ladder as it crosses the wire: SI numbers, unit last in the name -------------------------------------

const figureRefSchema = z.object({ entity: z.string(), id: z.string(), name: z.string() });
const numbersSchema = z.record(z.string(), z.number());
const marginSchema = z.object({ demandPa: z.number(), capacityPa: z.number(), marginPa: z.number() });
const plainMarginSchema = z.object({ demand: z.number(), capacity: z.number(), margin: z.number() });
const missingSchema = z.object({ field: z.string(), ref: figureRefSchema.nullable() });

export const pressureRungSchema = z.object({
  code: z.enum([
    'required',
    'reset-point',
    'set-point',
    'pump-restart',
    'setting',
    'highest-possible',
    'workpiece-limit',
    'rating',
  ]),
  pressurePa: z.number().nullable(),
  halfWidthPa: z.number().nullable(),
  ref: figureRefSchema.nullable(),
  isWeakest: z.boolean(),
  basis: z.string(),
  parameters: numbersSchema,
});
export const provedCheckSchema = z.object({
  code: z.enum(CHECK_CODES),
  status: statusSchema,
  reason: z.string(),
  subject: figureRefSchema.nullable(),
  nominal: marginSchema.nullable(),
  stated: marginSchema.nullable(),
  worstCase: marginSchema.nullable(),
  /** numbers that are no pressures, in the SI unit of their kind */
  numbers: z
    .object({
      kind: z.enum(['time', 'pressure', 'power', 'voltage', 'current', 'force', 'flow', 'volume', 'fact']),
      nominal: plainMarginSchema.nullable(),
      stated: plainMarginSchema.nullable(),
      worstCase: plainMarginSchema.nullable(),
    })
    .optional(),
  /** what a check of many parts consists of, the worst first */
  pairs: z
    .array(z.object({ reason: z.string(), subject: figureRefSchema.nullable(), status: statusSchema }))
    .optional(),
  /** the interlock's: rules that a single fault breaks, and whether nothing short of a second channel covers it */
  faults: z.array(z.object({ fault: z.string(), rule: z.string(), needsSecondChannel: z.boolean() })).optional(),
  ratio: z.number().nullable(),
  marginAsked: z.number(),
  probability: z.number().nullable(),
  /** highest possible: which way of rising above the setting decided */
  governing: z.enum(['source', 'trapped-oil', 'intensified', 'relief-opening', 'return-line']).optional(),
  /** the load case of the subject that it speaks of: `1/through`, `clamped/2` */
  loadCase: z.string().optional(),
  missing: z.array(missingSchema),
  parameters: numbersSchema,
  source: z.string(),
});
export const settingWindowSchema = z.object({
  lowPa: z.number().nullable(),
  highPa: z.number().nullable(),
  exists: z.boolean().nullable(),
  settingLowestPa: z.number().nullable(),
  settingHighestPa: z.number().nullable(),
  resetLowestPa: z.number().nullable(),
  resetHighestPa: z.number().nullable(),
});
export const pressureLadderSchema = z
  .object({
    status: statusSchema,
    window: settingWindowSchema,
    rungs: z.array(pressureRungSchema),
    checks: z.array(provedCheckSchema),
  })
  .meta({ id: 'PressureLadder' });
export type PressureLadder = z.infer<typeof pressureLadderSchema>;
/** Which settings the pressure ladder stands on. */
export const settingsInUseSchema = z.object({
  basis: z.enum(['as-left', 'target', 'none']),
  revision: z.int().nullable(),
  on: instantSchema.nullable(),
});

/** The marks of a small pressure ladder, SI. */
export const pressureMarksSchema = z.object({
  requiredPa: z.number().nullable(),
  resetPointPa: z.number().nullable(),
  setPointPa: z.number().nullable(),
  settingPa: z.number().nullable(),
  settingHalfWidthPa: z.number().nullable(),
  highestPossiblePa: z.number().nullable(),
  workpieceLimitPa: z.number().nullable(),
  weakestRatingPa: z.number().nullable(),
});
export type PressureMarks = z.infer<typeof pressureMarksSchema>;
