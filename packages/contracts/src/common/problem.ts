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

/** Every code that a problem can carry: status, title, and when it is given. */
export const PROBLEM_CODES = {
  'request.invalid': { status: 422, title: 'Something in the request is not right', when: 'a field breaks its rule' },
  'request.malformed': { status: 400, title: 'The request cannot be read', when: 'not JSON, a bad cursor or header' },
  'request.too_large': { status: 413, title: 'The request is too large', when: 'a body above the limit' },
  'request.media_type': { status: 415, title: 'This media type is not taken', when: 'a body that is not JSON' },
  'request.not_found': { status: 404, title: 'Not found', when: 'no such record, or not yours' },
  'request.method': { status: 405, title: 'This method is not taken here', when: 'a known path, another method' },
  'request.cross_site': { status: 403, title: 'Refused', when: 'a change asked for from another site' },
  'request.precondition_required': { status: 428, title: 'Say which version you changed', when: 'If-Match is missing' },
  'request.stale': { status: 412, title: 'Somebody changed it meanwhile', when: 'If-Match names an older version' },
  'request.idempotency_missing': {
    status: 400,
    title: 'An Idempotency-Key is needed',
    when: 'a create without the header',
  },
  'request.idempotency_reused': {
    status: 422,
    title: 'This Idempotency-Key was used for another request',
    when: 'same key, another body',
  },
  'request.idempotency_running': {
    status: 409,
    title: 'The same request is still running',
    when: 'same key, not finished',
  },
  'request.conflict': {
    status: 409,
    title: 'It contradicts what is there',
    when: 'a name taken, a period that overlaps',
  },
  'request.too_many': { status: 429, title: 'Too many requests', when: 'the rate limit' },
  'session.needed': { status: 401, title: 'Sign in first', when: 'no session, or it has ended' },
  'session.wrong': { status: 401, title: 'E-mail or password is not right', when: 'sign-in refused' },
  'session.role': { status: 403, title: 'Your role may not do this', when: 'signed in, but without the right' },
  'issue.closed': { status: 409, title: 'The issue is closed', when: 'a change to a closed issue' },
  'finding.still': { status: 409, title: 'It still cannot be taken in', when: 'a kept part is tried again too early' },
  'finding.settled': { status: 409, title: 'This finding is settled', when: 'a change to a settled finding' },
  'calculation.problem': {
    status: 422,
    title: 'The inputs cannot be computed',
    when: 'a calculation refuses its inputs',
  },
  'calculation.too-much': {
    status: 422,
    title: 'It is too much to compute',
    when: 'a calculation that was ended at its limit of time, memory or length',
  },
  'job.ended': { status: 409, title: 'The job has ended', when: 'cancelling a job that is over' },
  'job.not-yours': {
    status: 409,
    title: 'Somebody else asked for this job',
    when: 'cancelling a job of another person, not being an administrator',
  },
  'job.lost': {
    status: 500,
    title: 'Its workers ended again and again',
    when: 'a job whose process died each time that it was tried',
  },
  'import.state': { status: 409, title: 'Not at this step', when: 'an import that is at another step, or busy' },
  'import.unreadable': {
    status: 422,
    title: 'The file cannot be read',
    when: 'not CSV or XLSX, damaged, or too large',
  },
  'import.question': {
    status: 422,
    title: 'A question is open',
    when: 'dates or decimal signs that read two ways, and nobody has said which',
  },
  'import.changed': {
    status: 409,
    title: 'The records were changed since the trial',
    when: 'a commit whose trial no longer holds',
  },
  'import.refused-rows': {
    status: 409,
    title: 'Some rows are refused',
    when: 'a commit with rows that cannot be taken',
  },
  'import.built-upon': { status: 409, title: 'Something was built on it', when: 'an undo after later changes' },
  'export.too-large': {
    status: 409,
    title: 'Too many rows to answer at once',
    when: 'a table of more than 5000 rows: export it in the background',
  },
  'export.no-file': {
    status: 409,
    title: 'There is no file',
    when: 'a job that is no export, has not finished, or whose file is no longer kept',
  },
  'source.signature': {
    status: 401,
    title: 'The signature is not right',
    when: 'a delivery signed with no live secret',
  },
  'source.gone': { status: 410, title: 'This source is no longer in use', when: 'a delivery to an archived source' },
  'service.full': { status: 507, title: 'There is no room left to write', when: 'the disk is full' },
  'service.unavailable': { status: 503, title: 'Not ready, try again shortly', when: 'the database cannot be reached' },
  'service.busy': {
    status: 503,
    title: 'Too much is waiting to be computed',
    when: 'no room in the line of calculations, for this person, this organisation or anybody',
  },
  'service.fault': { status: 500, title: 'A fault on our side', when: 'anything not foreseen' },
} as const satisfies Record<string, { status: number; title: string; when: string }>;
export type ProblemCode = keyof typeof PROBLEM_CODES;
