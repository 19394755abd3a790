import { createHash } from 'node:crypto';
import { AppError } from '../errors/app-error.js';
import type { RequestContext } from '../db/db.js';

export interface StoredResponse {
  status: number;
  body: string;
}

/** A structured-field string: 1 to 200 printable characters in quotes. */
export function readIdempotencyKey(header: string | string[] | undefined): string {
  if (header === undefined || Array.isArray(header)) throw new AppError('request.idempotency_missing');
  const parts = /^"([\x21\x23-\x5b\x5d-\x7e]{1,200})"$/.exec(header.trim());
  if (parts?.[1] === undefined) {
    throw new AppError('request.idempotency_missing', {
      detail: 'Idempotency-Key is a string in quotes, such as "0190-…".',
    });
  }
  return parts[1];
}

/**
 * Runs a create at most once per (person, route, key): the same body gives the stored answer again, another body is refused,
 * and a twin that is still running is told so. Key and effect are committed together.
 */
export async function once(
  context: RequestContext,
  route: string,
  key: string,
  body: unknown,
  work: () => Promise<StoredResponse>,
): Promise<{ response: StoredResponse; replayed: boolean }> {
  const { tx, actor } = context;
  const bodyHash = createHash('sha256')
    .update(JSON.stringify(body ?? null))
    .digest();
  const lock = createHash('sha256').update([actor.organisationId, actor.userId, route, key].join('\n')).digest();
  const [got] = await tx.$queryRaw<{ locked: boolean }[]>`
    SELECT pg_try_advisory_xact_lock(${lock.readBigInt64BE(0)}::bigint) AS locked`;
  if (got?.locked !== true) throw new AppError('request.idempotency_running', { retryAfterS: 1 });
  const where = { organisationId: actor.organisationId, principal: actor.userId, route, key };
  const before = await tx.idempotencyKey.findUnique({ where: { organisationId_principal_route_key: where } });
  if (before !== null) {
    if (!bodyHash.equals(before.bodySha256)) throw new AppError('request.idempotency_reused');
    return { response: { status: before.responseStatus ?? 200, body: before.responseBody ?? '' }, replayed: true };
  }
  const response = await work();
  await tx.idempotencyKey.create({
    data: { ...where, bodySha256: bodyHash, responseStatus: response.status, responseBody: response.body },
  });
  return { response, replayed: false };
}
