/**
 * Loaded into the API before its own code while somebody develops: the page server tells open pages of a change through a WebSocket,
 * which the front door of the product neither has nor needs. It goes through here as it came.
 */
import http from 'node:http';
import net from 'node:net';

/**
 * @param {http.IncomingMessage} request
 * @param {import('node:stream').Duplex} socket
 * @param {Buffer} head
 */
function toPages(request, socket, head) {
  const { hostname, port } = new URL(process.env.WEB_URL ?? '');
  const pages = net.connect(Number(port), hostname, () => {
    const lines = request.rawHeaders.flatMap((name, at, all) => (at % 2 === 0 ? [`${name}: ${all[at + 1]}`] : []));
    pages.write(`${request.method} ${request.url} HTTP/1.1\r\n${lines.join('\r\n')}\r\n\r\n`);
    pages.write(head);
    pages.pipe(socket).pipe(pages);
  });
  pages.on('error', () => socket.destroy());
  socket.on('error', () => pages.destroy());
}

const { listen } = net.Server.prototype;
net.Server.prototype.listen = /** @type {typeof listen} */ (
  /** @this {net.Server} @param {any[]} place */
  function listenWithTunnel(...place) {
    if (this instanceof http.Server && this.listenerCount('upgrade') === 0) this.on('upgrade', toPages);
    return Reflect.apply(listen, this, place);
  }
);
