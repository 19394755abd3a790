import { z } from 'zod';
import { idParamsSchema } from '../common/ids.js';
import { defineRoutes, EVERYONE, STAFF } from '../common/route.js';
import { jobSchema } from '../jobs/jobs.schema.js';
import {
  exportFormatSchema,
  exportPressureUnitSchema,
  exportTableSchema,
  startExportBodySchema,
} from './exports.schema.js';

export const exportsRoutes = defineRoutes({
  download: {
    id: 'downloadExport',
    method: 'GET',
    path: '/exports/{table}',
    area: 'exports',
    summary: 'A table as CSV or XLSX: the rows that you may see, 5000 at most',
    access: EVERYONE,
    params: z.strictObject({ table: exportTableSchema }),
    query: z.strictObject({
      format: exportFormatSchema.default('xlsx'),
      pressureUnit: exportPressureUnitSchema.default('bar'),
    }),
    status: 200,
    download: true,
    errors: ['request.not_found', 'export.too-large'],
  },
  start: {
    id: 'startExport',
    method: 'POST',
    path: '/exports',
    area: 'exports',
    summary: 'Export a table of any size in the background',
    access: STAFF,
    body: startExportBodySchema,
    response: jobSchema,
    status: 202,
    job: true,
    errors: ['request.not_found'],
  },
  file: {
    id: 'downloadExportFile',
    method: 'GET',
    path: '/export-files/{id}',
    area: 'exports',
    summary: 'The file that an export in the background made, by the id of its job; kept for seven days',
    access: STAFF,
    params: idParamsSchema,
    status: 200,
    download: true,
    errors: ['request.not_found', 'export.no-file'],
  },
});
