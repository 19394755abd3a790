import http from 'node:http';
import https from 'node:https';
import net from 'node:net';
import { answerLater } from './later.mjs';

/** @typedef {import('node:child_process').ChildProcess} ChildProcess */

/**
 * @typedef {object} FrontDoor
 * @property {(api: ChildProcess | null) => void} leadTo who takes the connections from now on; null: nobody does
 * @property {() => Promise<void>} close
 */

/** A connection that says nothing while nobody can serve it is not kept. */
const SILENCE_MS = 5_000;

/**
 * The port that people know. It is held here from the first start of the API to the last, so that it is never refused: each new
 * connection is handed over whole to the API process, and while there is none it is answered here with 503.
 *
 * Why handed over: a proxy would put every byte through one more process, end TLS twice and hide who calls; a port that the API
 * opens itself is refused while the API starts. What is handed over keeps the caller's address and its encryption.
 * @param {object} input
 * @param {number} input.port
 * @param {string} input.host
 * @param {{ cert: Buffer, key: Buffer } | null} input.tls
 * @returns {Promise<FrontDoor>}
 */
export async function openFrontDoor({ port, host, tls }) {
  const later = tls === null ? http.createServer(answerLater) : https.createServer(tls, answerLater);
  // A caller who breaks off, or speaks no TLS, concerns nobody but that caller.
  later.on(tls === null ? 'clientError' : 'tlsClientError', (_error, socket) => socket.destroy());
  /** @type {ChildProcess | null} */
  let api = null;
  /** @type {Set<net.Socket>} */
  const answered = new Set();
  /**
   * Offered to the API and not taken yet, by number. Should it die first, they are answered here.
   * @type {Map<number, net.Socket>}
   */
  const offered = new Map();
  let offers = 0;

  /** @param {net.Socket} socket */
  const answerHere = (socket) => {
    answered.add(socket);
    socket.once('close', () => answered.delete(socket));
    socket.setTimeout(SILENCE_MS, () => socket.destroy());
    later.emit('connection', socket);
    socket.resume();
  };

  const door = net.createServer({ pauseOnConnect: true, noDelay: true }, (socket) => {
    socket.on('error', () => socket.destroy());
    if (api?.connected !== true) {
      answerHere(socket);
      return;
    }
    offers += 1;
    offered.set(offers, socket);
    // What is not sent is not taken, and is answered here as soon as the end of the API is noticed.
    api.send({ offer: offers }, socket, { keepOpen: true }, () => undefined);
  });
  await new Promise((resolve, reject) => {
    door.once('error', reject);
    door.listen(port, host, () => resolve(undefined));
  });
  return {
    leadTo: (next) => {
      api = next;
      for (const socket of offered.values()) answerHere(socket);
      offered.clear();
      next?.on('message', (message) => {
        if (typeof message !== 'object' || message === null || !('taken' in message)) return;
        const number = Number(message.taken);
        // Closed on this side only: the API has a hold of its own on the connection.
        offered.get(number)?.destroy();
        offered.delete(number);
      });
    },
    close: async () => {
      // Not waited for: it ends with the last connection, and those handed over end with the API.
      door.close();
      for (const socket of [...answered, ...offered.values()]) socket.destroy();
    },
  };
}
