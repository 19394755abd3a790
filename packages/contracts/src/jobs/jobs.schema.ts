import { z } from 'zod';
import { idSchema, instantSchema } from '../common/ids.js';
import { problemErrorSchema } from '../common/problem.js';

export const jobStateSchema = z.enum(['queued', 'running', 'finished', 'failed', 'cancelled']);
export type JobState = z.infer<typeof jobStateSchema>;

/** Work in the background. Its result is kept; what went wrong names the row. */
export const jobSchema = z
  .object({
    id: idSchema,
    kind: z.string().meta({ description: 'what is done: import-read, import-check, import-commit, import-undo …' }),
    state: jobStateSchema,
    /** 0 to 1 */
    progress: z.number(),
    /** code of what is being done just now; empty before it begins */
    step: z.string(),
    done: z.int().nullable(),
    total: z.int().nullable(),
    /** seconds left, from ten seconds on, at the pace so far; null when nothing can be said */
    etaS: z.number().nullable(),
    /** tries so far; more than one when a worker died */
    attempts: z.int(),
    requestedByName: z.string(),
    /** the caller may cancel it */
    canCancel: z.boolean(),
    createdAt: instantSchema,
    startedAt: instantSchema.nullable(),
    finishedAt: instantSchema.nullable(),
    cancelRequestedAt: instantSchema.nullable(),
    parameters: z.record(z.string(), z.unknown()),
    result: z.record(z.string(), z.unknown()).nullable(),
    problem: z
      .object({
        code: z.string(),
        title: z.string(),
        detail: z.string(),
        errors: z.array(problemErrorSchema).optional(),
      })
      .nullable(),
    version: z.int(),
  })
  .meta({ id: 'Job' });
export type Job = z.infer<typeof jobSchema>;
