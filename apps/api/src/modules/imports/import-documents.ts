import {
  importCountsSchema,
  importMappingSchema,
  importReadingSchema,
  importRowSchema,
  type ImportCounts,
  type ImportMapping,
  type ImportReading,
  type ImportRow,
} from '@repo/contracts';
import { z } from 'zod';
import { formerShape, storedDocument } from '../../platform/documents/index.js';

/** What was found in a file; null: it was not read yet. */
export const importReading = storedDocument<ImportReading | null>({
  name: 'description of an imported file',
  schema: importReadingSchema.nullable(),
});

/** What its columns mean; null: nothing is suggested yet, which lies as an empty object. */
export const importMapping = storedDocument<ImportMapping | null>({
  name: 'mapping of an import',
  schema: importMappingSchema,
  former: [formerShape(z.strictObject({}), () => null)],
});

/** What becomes of its rows and records; null: nobody has tried yet. */
export const importCounts = storedDocument<ImportCounts | null>({
  name: 'counts of an import',
  schema: importCountsSchema.nullable(),
});

export const rowRecords = storedDocument<ImportRow['records']>({
  name: 'records of an imported row',
  schema: importRowSchema.shape.records,
});

export const rowRemarks = storedDocument<ImportRow['findings']>({
  name: 'remarks on an imported row',
  schema: importRowSchema.shape.findings,
});

/** The columns of a record as they were before an import changed it: under the names of its table, so loose. */
export const columnsBefore = storedDocument({
  name: 'record as it was before an import',
  schema: z.looseObject({ archived: z.boolean() }),
});
