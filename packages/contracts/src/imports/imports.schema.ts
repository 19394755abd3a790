import { z } from 'zod';
import { idSchema, instantSchema } from '../common/ids.js';
import { IMPORT_ENTITIES } from './import-fields.js';

export const importStateSchema = z.enum([
  'new',
  'reading',
  'unreadable',
  'read',
  'checking',
  'checked',
  'committing',
  'committed',
  'undoing',
  'undone',
]);
export const importEntitySchema = z.enum(IMPORT_ENTITIES);

const noteSchema = z
  .object({ code: z.string(), params: z.record(z.string(), z.union([z.string(), z.number()])) })
  .meta({ id: 'ImportNote', description: 'what was found or assumed: a code and its parameters' });
export type ImportNote = z.infer<typeof noteSchema>;

/** What a column of texts says about its decimal sign, or the order of day and month. */
export const numberStyleSchema = z.enum(['none', 'plain', 'point', 'comma', 'ambiguous', 'mixed']);
export const dateStyleSchema = z.enum(['none', 'plain', 'day-month', 'month-day', 'ambiguous', 'mixed']);

const columnSchema = z.object({
  column: z.int().meta({ description: 'from 0' }),
  letter: z.string(),
  header: z.string(),
  hidden: z.boolean(),
  samples: z.array(z.string()),
  numbers: numberStyleSchema,
  dates: dateStyleSchema,
  /** cells that read two ways */
  examples: z.array(z.string()),
});
export type ImportColumn = z.infer<typeof columnSchema>;

export const importReadingSchema = z.object({
  format: z.enum(['csv', 'xlsx']),
  notes: z.array(noteSchema),
  sheets: z.array(
    z.object({
      name: z.string(),
      hidden: z.boolean(),
      rows: z.int(),
      hiddenRows: z.int(),
      headerRow: z.int().meta({ description: 'number of the row with the headings; 0 when there is none' }),
      notes: z.array(noteSchema),
      columns: z.array(columnSchema),
    }),
  ),
});
export type ImportReading = z.infer<typeof importReadingSchema>;

const columnMappingSchema = z.strictObject({
  column: z.int().min(0).max(299),
  /** a field of the table of import fields; null: left out */
  field: z.string().max(80).nullable(),
  /** UCUM unit of numbers without one; null: from the heading, or each cell says it */
  unit: z.string().max(40).nullable().default(null),
  decimal: z.enum(['point', 'comma']).nullable().default(null),
  dateOrder: z.enum(['day-month', 'month-day']).nullable().default(null),
  /** an empty cell says what the cell above it says */
  fillDown: z.boolean().default(false),
});
const sheetMappingSchema = z.strictObject({
  sheet: z.int().min(0).max(49),
  use: z.boolean(),
  headerRow: z.int().min(0).max(200_000),
  columns: z.array(columnMappingSchema).max(300),
  /** a value for every row, for what the file does not say */
  constants: z.array(z.strictObject({ field: z.string().max(80), value: z.string().max(400) })).max(50),
});
export const importMappingSchema = z
  .strictObject({
    sheets: z.array(sheetMappingSchema).max(50),
    hiddenRows: z.boolean(),
    hiddenColumns: z.boolean(),
    /** what the separator is in the numbers that read two ways, such as 1.500; null: nobody has said */
    decimal: z.enum(['point', 'comma']).nullable().default(null),
    /** rows whose first word is that of a sum are records all the same */
    keepTotals: z.boolean().default(false),
  })
  .meta({ id: 'ImportMapping' });
export type ImportMapping = z.infer<typeof importMappingSchema>;

const outcomesSchema = z.object({ created: z.int(), changed: z.int(), unchanged: z.int(), refused: z.int() });
export const importCountsSchema = z.object({
  rows: outcomesSchema,
  records: z.partialRecord(importEntitySchema, outcomesSchema),
});
export type ImportCounts = z.infer<typeof importCountsSchema>;

export const importQuestionSchema = z.object({
  kind: z.enum(['date-order', 'decimal-sign']),
  sheet: z.int(),
  column: z.int(),
  letter: z.string(),
  header: z.string(),
  examples: z.array(z.string()),
  /** of a decimal sign, which is asked once for the file: the first example, read either way */
  readings: z.object({ point: z.string(), comma: z.string() }).nullable(),
});

export const importSchema = z
  .object({
    id: idSchema,
    fileName: z.string(),
    state: importStateSchema,
    reading: importReadingSchema.nullable(),
    mapping: importMappingSchema.nullable(),
    /** the mapping was taken over from a file with the same headings */
    isRemembered: z.boolean(),
    /** open before a trial run may begin */
    questions: z.array(importQuestionSchema),
    counts: importCountsSchema.nullable(),
    /** the job that works on it, or did last */
    jobId: idSchema.nullable(),
    createdByName: z.string(),
    createdAt: instantSchema,
    committedAt: instantSchema.nullable(),
    undoneAt: instantSchema.nullable(),
    version: z.int(),
  })
  .meta({ id: 'Import' });
export type Import = z.infer<typeof importSchema>;
export const importSummarySchema = importSchema
  .omit({ reading: true, mapping: true, questions: true, isRemembered: true })
  .meta({ id: 'ImportSummary' });
export type ImportSummary = z.infer<typeof importSummarySchema>;

export const importOutcomeSchema = z.enum(['created', 'changed', 'unchanged', 'refused']);
export type ImportOutcome = z.infer<typeof importOutcomeSchema>;

/** What is wrong with a cell or a row. */
export const importRemarkSchema = z
  .object({
    code: z.string(),
    params: z.record(z.string(), z.union([z.string(), z.number()])),
    /** such as C14; null when it is about the row */
    cell: z.string().nullable(),
    field: z.string().nullable(),
  })
  .meta({ id: 'ImportRemark' });
export type ImportRemark = z.infer<typeof importRemarkSchema>;

export const importRowSchema = z
  .object({
    sequence: z.int(),
    sheet: z.string(),
    row: z.int(),
    outcome: importOutcomeSchema,
    /** what becomes of each record that the row speaks of; of a new one, every value that will be written */
    records: z.array(
      z.object({
        entity: importEntitySchema,
        name: z.string(),
        outcome: importOutcomeSchema,
        changes: z.array(
          z.object({
            field: z.string(),
            from: z.string(),
            to: z.string().meta({ description: 'as it was read' }),
            converted: z.string().default('').meta({
              description: 'a quantity in the unit in which it is shown elsewhere, where that is another one',
            }),
            cell: z.string().nullable(),
          }),
        ),
      }),
    ),
    /** cells that were empty, and took over what stands above them */
    filled: z.array(z.string()).default([]),
    /** remarks; they keep the name that they had in this version of the API */
    findings: z.array(importRemarkSchema),
  })
  .meta({ id: 'ImportRow' });
export type ImportRow = z.infer<typeof importRowSchema>;
