import { z } from 'zod';

export const problemErrorSchema = z.object({
  pointer: z.string().meta({ description: 'RFC 6901 pointer into the body, or the parameter' }),
  field: z.string(),
  got: z.string(),
  needs: z.string(),
  code: z.string(),
});

/** RFC 9457 problem details. `code` is what a client translates. */
export const problemSchema = z
  .object({
    type: z.string(),
    title: z.string(),
    status: z.int(),
    detail: z.string(),
    instance: z.string(),
    code: z.string(),
    requestId: z.string(),
    currentEtag: z.string().optional(),
    errors: z.array(problemErrorSchema).optional(),
  })
  .meta({ id: 'Problem' });
export type Problem = z.infer<typeof problemSchema>;
export type ProblemError = z.infer<typeof problemErrorSchema>;
