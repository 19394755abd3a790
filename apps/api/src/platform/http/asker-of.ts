import type { FastifyReply, FastifyRequest } from 'fastify';
import type { WithActor } from '../auth/access.guard.js';
import type { Asker } from '../compute/askers.js';

/** Whose turn a request counts as: its person's in their organisation, a stranger's by address; and when nobody waits any more. */
export function askerOf(request: FastifyRequest & WithActor, reply: FastifyReply): Asker {
  const leaving = new AbortController();
  reply.raw.once('close', () => {
    if (!reply.raw.writableFinished) leaving.abort();
  });
  const { actor } = request;
  return {
    organisation: actor?.organisationId ?? '',
    person: actor?.userId ?? request.ip,
    signal: leaving.signal,
    isPatient: false,
  };
}
