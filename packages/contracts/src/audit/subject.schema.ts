import { z } from 'zod';
import { idSchema } from '../common/ids.js';

/** What a record is called today, and the machine that it belongs to. */
export const subjectSchema = z
  .object({ name: z.string(), machineId: idSchema.nullable(), machineName: z.string().nullable() })
  .meta({ id: 'Subject' });
export type Subject = z.infer<typeof subjectSchema>;
