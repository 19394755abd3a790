import { z } from 'zod';
import { idSchema, instantSchema, localDateSchema, shortTextSchema } from '../common/ids.js';
import { quantityOf, quantityOutSchema } from '../common/quantity.js';

const pressure = quantityOf('pressure');
const zeroPressure = quantityOf('pressure', { zero: true });

/** Settings of a circuit. What is not given stays unknown. */
const settingsIn = {
  setting: pressure,
  /** half width: drift and hysteresis of the regulator */
  settingTolerance: zeroPressure.nullable().default(null),
  setPoint: pressure.nullable().default(null),
  resetPoint: pressure.nullable().default(null),
  airPressure: pressure.nullable().default(null),
  pumpRestart: pressure.nullable().default(null),
  pumpRestartTolerance: zeroPressure.nullable().default(null),
};
const settingsOut = {
  setting: quantityOutSchema.nullable(),
  settingTolerance: quantityOutSchema.nullable(),
  setPoint: quantityOutSchema.nullable(),
  resetPoint: quantityOutSchema.nullable(),
  airPressure: quantityOutSchema.nullable(),
  pumpRestart: quantityOutSchema.nullable(),
  pumpRestartTolerance: quantityOutSchema.nullable(),
};

export const targetSettingSchema = z
  .object({
    id: idSchema,
    customerId: idSchema,
    circuitId: idSchema,
    revision: z.int(),
    ...settingsOut,
    reason: z.string(),
    releasedAt: instantSchema,
    releasedByName: z.string(),
  })
  .meta({ id: 'TargetSetting' });
export type TargetSetting = z.infer<typeof targetSettingSchema>;

export const releaseTargetSettingBodySchema = z.strictObject({
  id: idSchema,
  circuitId: idSchema,
  ...settingsIn,
  reason: shortTextSchema.min(1),
  /** the newest revision that the engineer saw; 0 when there was none. Another one meanwhile: 409 */
  afterRevision: z.int().min(0),
});

const gaugeClassSchema = z.enum(['', '0.1', '0.25', '0.6', '1', '1.6', '2.5', '4']);
const measuredIn = {
  /** until the switch makes */
  clampTime: quantityOf('time').nullable().default(null),
  /** until the last clamp has reached its contact */
  contactTime: quantityOf('time').nullable().default(null),
  unclampTime: quantityOf('time').nullable().default(null),
  /** how far these times may be off, either way */
  timeTolerance: quantityOf('time', { zero: true }).nullable().default(null),
  /** fall of pressure with the supply shut off … */
  decay: zeroPressure.nullable().default(null),
  /** … in this time */
  decayDuration: quantityOf('time').nullable().default(null),
  oilTemperature: quantityOf('temperature').nullable().default(null),
  /** lowest pressure seen here while another circuit of the power unit clamps */
  lowestWhileShared: pressure.nullable().default(null),
  gaugeSpan: pressure.nullable().default(null),
  /** EN 837-1 accuracy class */
  gaugeClass: gaugeClassSchema.default(''),
  gaugeIdentity: shortTextSchema.default(''),
  gaugeCalibratedOn: localDateSchema.nullable().default(null),
  /** until when its calibration is good */
  gaugeCalibrationDueOn: localDateSchema.nullable().default(null),
};
const measuredOut = {
  clampTime: quantityOutSchema.nullable(),
  contactTime: quantityOutSchema.nullable(),
  unclampTime: quantityOutSchema.nullable(),
  timeTolerance: quantityOutSchema.nullable(),
  decay: quantityOutSchema.nullable(),
  decayDuration: quantityOutSchema.nullable(),
  oilTemperature: quantityOutSchema.nullable(),
  lowestWhileShared: quantityOutSchema.nullable(),
  gaugeSpan: quantityOutSchema.nullable(),
  gaugeClass: z.string(),
  gaugeIdentity: z.string(),
  gaugeCalibratedOn: localDateSchema.nullable(),
  gaugeCalibrationDueOn: localDateSchema.nullable(),
};

/** As-left settings: what was measured, with which instrument and which fixture on the station. */
export const setupRecordSchema = z
  .object({
    id: idSchema,
    customerId: idSchema,
    circuitId: idSchema,
    revision: z.int(),
    ...settingsOut,
    ...measuredOut,
    basis: z.enum(['report', 'commissioning']),
    reportName: z.string(),
    fixtureId: idSchema.nullable(),
    fixtureName: z.string().nullable(),
    reason: z.string(),
    measuredAt: instantSchema,
    measuredByName: z.string(),
    recordedAt: instantSchema,
    recordedByName: z.string(),
  })
  .meta({ id: 'SetupRecord' });
export type SetupRecord = z.infer<typeof setupRecordSchema>;

/** What says nothing without its partner: a fall of pressure without its duration, a gauge's span without its class. */
export const SETUP_PAIRS = [
  ['decay', 'decayDuration'],
  ['gaugeSpan', 'gaugeClass'],
] as const;

const isGiven = (value: unknown): boolean => value !== null && value !== '';
const pairIsWhole = ([one, other]: (typeof SETUP_PAIRS)[number], body: Readonly<Record<string, unknown>>): boolean =>
  isGiven(body[one]) === isGiven(body[other]);

/** A calibration is due after it was made; where one of both days is not known, nothing is said. */
export const isDueAfter = (calibratedOn: string | null, dueOn: string | null): boolean =>
  calibratedOn === null || dueOn === null || dueOn > calibratedOn;

export const createSetupRecordBodySchema = z
  .strictObject({
    id: idSchema,
    circuitId: idSchema,
    ...settingsIn,
    ...measuredIn,
    /** the report that these values come from */
    reportName: shortTextSchema.min(1),
    reason: shortTextSchema.min(1),
    measuredAt: instantSchema,
    measuredByName: shortTextSchema.min(1),
    afterRevision: z.int().min(0),
  })
  .refine((body) => pairIsWhole(SETUP_PAIRS[0], body), {
    path: ['decayDuration'],
    message: 'both the fall and its duration, or neither',
  })
  .refine((body) => pairIsWhole(SETUP_PAIRS[1], body), {
    path: ['gaugeClass'],
    message: "the gauge's span and its class, or neither",
  })
  .refine((body) => isDueAfter(body.gaugeCalibratedOn, body.gaugeCalibrationDueOn), {
    path: ['gaugeCalibrationDueOn'],
    message: 'a day after the one on which it was calibrated',
    params: { code: 'order' },
  });
