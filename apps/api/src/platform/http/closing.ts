import type { FastifyInstance } from 'fastify';

/**
 * Ends each connection with the answer that it waits for, once the service is to end: one that is kept open for further requests would
 * hold up the end until nothing had come through it for a minute.
 */
export function endConnectionsOnClosing(app: FastifyInstance): void {
  let isClosing = false;
  app.addHook('preClose', (done) => {
    isClosing = true;
    done();
  });
  app.addHook('onSend', async (_request, reply, payload) => {
    if (isClosing) reply.header('connection', 'close');
    return payload;
  });
}
