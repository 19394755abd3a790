import net from 'node:net';

/**
 * A TCP port that was free on the address a moment ago.
 * @param {string} [host]
 * @returns {Promise<number>}
 */
export function findFreePort(host = '127.0.0.1') {
  return new Promise((resolve, reject) => {
    const server = net.createServer();
    server.once('error', reject);
    server.listen(0, host, () => {
      const address = server.address();
      const port = typeof address === 'object' && address !== null ? address.port : 0;
      server.close(() => resolve(port));
    });
  });
}

/**
 * Why a port cannot be used: an error code such as `EADDRINUSE` or `EACCES`, or null when it is free.
 * @param {number} port
 * @param {string} host
 * @returns {Promise<string | null>}
 */
export function findPortProblem(port, host) {
  return new Promise((resolve) => {
    const server = net.createServer();
    server.once('error', (/** @type {NodeJS.ErrnoException} */ error) => resolve(error.code ?? error.message));
    server.listen(port, host, () => server.close(() => resolve(null)));
  });
}
