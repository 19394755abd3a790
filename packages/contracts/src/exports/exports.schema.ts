import { z } from 'zod';
import { EXPORT_TABLE_NAMES } from './export-tables.js';

export const exportTableSchema = z.enum(EXPORT_TABLE_NAMES);
export const exportFormatSchema = z.enum(['csv', 'xlsx']);
export type ExportFormat = z.infer<typeof exportFormatSchema>;

/** The unit of pressures, which the headings then carry; other quantities stand in the first unit of their kind. */
export const exportPressureUnitSchema = z.enum(['bar', '[psi]', 'MPa']);

export const startExportBodySchema = z.strictObject({
  table: exportTableSchema,
  format: exportFormatSchema.default('xlsx'),
  pressureUnit: exportPressureUnitSchema.default('bar'),
});
export type StartExportBody = z.infer<typeof startExportBodySchema>;
