import type { FastifyInstance } from 'fastify';
import type { Db } from '../db/db.js';
import { sendProblem } from '../errors/problem.filter.js';

/** `/live`: the process answers. `/ready`: it can do its work, too. */
export function answerHealth(app: FastifyInstance, db: Db): void {
  app.get('/live', { errorHandler: sendProblem }, (_request, reply) => {
    reply.header('cache-control', 'no-store').send({ live: true });
  });
  app.get('/ready', { errorHandler: sendProblem }, async (_request, reply) => {
    const ready = await db.isReachable();
    return reply
      .code(ready ? 200 : 503)
      .header('cache-control', 'no-store')
      .send({ ready });
  });
}
