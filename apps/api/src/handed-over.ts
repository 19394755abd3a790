import { Socket } from 'node:net';
import type { NestFastifyApplication } from '@nestjs/platform-fastify';

/**
 * Serves the connections that the parent process hands over, whoever called, encrypted or not: the port that people know is the
 * parent's, so that it stays open while this process is started again. The port opened here is loopback's alone; without one the
 * server would neither watch its time limits nor close its connections in peace. Tells the parent when it may begin.
 */
export async function takeHandedOver(app: NestFastifyApplication): Promise<void> {
  await app.listen(0, '127.0.0.1');
  const server = app.getHttpServer();
  process.on('message', (message, socket) => {
    if (typeof message !== 'object' || message === null || !('offer' in message)) return;
    process.send?.({ taken: message.offer });
    // A caller may have gone on the way here.
    if (socket instanceof Socket) server.emit('connection', socket);
  });
  process.send?.({ isOpen: true });
}
