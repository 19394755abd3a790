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
  'request.timeout': { status: 408, title: 'The request took too long to arrive', when: 'a sender that stalls' },
  'request.address_too_long': {
    status: 414,
    title: 'The address is too long',
    when: 'a request target above the limit',
  },
  'request.headers_too_large': { status: 431, title: 'The headers are too large', when: 'headers above the limit' },
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
  'session.code_needed': {
    status: 401,
    title: 'A one-time code is needed',
    when: 'the password is right, and the account has a second factor',
  },
  'session.code_wrong': { status: 401, title: 'The code is not right', when: 'a wrong, old or used one-time code' },
  'session.passkey_wrong': {
    status: 401,
    title: 'The passkey was not taken',
    when: 'a passkey that is not known here, or a challenge that is too old or was used',
  },
  'session.proof_needed': {
    status: 403,
    title: 'Confirm that it is you',
    when: 'roles, secrets and credentials ask again when the last proof is some minutes old',
  },
  'session.second_factor_demanded': {
    status: 403,
    title: 'Set up a second factor first',
    when: 'the organisation demands one, and this session has none',
  },
  'session.own_credential': {
    status: 403,
    title: "Sign in with the account's own password or passkey",
    when: "the account itself is to change, in a session that the organisation's sign-in opened",
  },
  'provider.unusable': {
    status: 424,
    title: "The organisation's sign-in cannot be used",
    when: 'its address is not allowed, it does not answer, or it answers otherwise than the standard has it',
  },
  'provider.refused': {
    status: 401,
    title: "The organisation's sign-in did not let you in",
    when: 'it refused, took too long, was left in another browser, or its answer does not fit',
  },
  'provider.unknown': {
    status: 403,
    title: 'You are not a member yet',
    when: 'the provider knows the person, the organisation does not: they need an invitation',
  },
  'link.ended': { status: 410, title: 'This link is no longer good', when: 'used, withdrawn, renewed, or too old' },
  'membership.exists': {
    status: 409,
    title: 'This account is a member already',
    when: 'an invitation accepted by somebody who belongs to the organisation',
  },
  'membership.last_administrator': {
    status: 409,
    title: 'Nobody else administers the organisation',
    when: 'the last administrator is to lose the role or the membership',
  },
  'record.unreadable': {
    status: 409,
    title: 'What is stored cannot be read',
    when: 'a document of the record has none of the shapes that this version knows: it says which, and where',
  },
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
