import { spawn } from 'node:child_process';
import { createHmac, createCipheriv, hkdfSync, randomBytes, randomUUID } from 'node:crypto';
import { once } from 'node:events';
import fs from 'node:fs';
import http from 'node:http';
import net from 'node:net';
import os from 'node:os';
import path from 'node:path';
import { withConnection, withUrlParts } from '@repo/launcher/connection';
import { startEmbeddedPostgres } from '@repo/launcher/embedded-postgres';
import { bringUpToDate } from '@repo/launcher/bring-up-to-date';
import { ensureRoles } from '@repo/launcher/roles';

const MAIN = path.resolve(import.meta.dirname, '../../apps/api/dist/main.js');
export const APP_SECRET = 'a secret of at least thirty-two bytes for the bench';

/**
 * A PostgreSQL as people run it (every commit on disk), with statements counted, migrated and empty.
 * @param {{ dataDir?: string, settings?: Record<string, string | number> }} [options]
 */
export async function startDatabase({ dataDir, settings = {} } = {}) {
  const folder = dataDir ?? fs.mkdtempSync(path.join(os.tmpdir(), 'kedge-ingest-'));
  if (dataDir === undefined) fs.chmodSync(folder, 0o711);
  const all = { shared_preload_libraries: 'pg_stat_statements', max_connections: 60, ...settings };
  let server = await startEmbeddedPostgres({ dataDir: folder, settings: all });
  const urls = await ensureRoles({ superuserUrl: server.url });
  await bringUpToDate({ ownerUrl: urls.ownerUrl });
  const { port } = server;
  return {
    urls,
    superuserUrl: withUrlParts(server.url, { database: 'kedge' }),
    folder,
    get pid() {
      return server.pid;
    },
    /** on the port that it had: who is connected finds it again */
    restart: async () => {
      server = await startEmbeddedPostgres({ dataDir: folder, port, settings: all });
    },
    stop: async () => {
      await server.stop();
      if (dataDir === undefined) fs.rmSync(folder, { recursive: true, force: true });
    },
  };
}

/**
 * One API process, as people run it.
 * @param {{ appUrl: string, gateUrl: string }} urls
 * @param {number} port
 * @param {Record<string, string>} [more] of its environment
 */
export async function startApiProcess(urls, port, more = {}) {
  const child = spawn(process.execPath, [MAIN], {
    stdio: ['ignore', process.env.DRILL_LOG === undefined ? 'ignore' : 'inherit', 'inherit'],
    env: {
      ...process.env,
      PORT: String(port),
      DATABASE_URL: urls.appUrl,
      DATABASE_GATE_URL: urls.gateUrl,
      APP_SECRET,
      LOG_LEVEL: process.env.DRILL_LOG ?? 'silent',
      WORKER: 'off',
      SOURCE_RATE_LIMIT: '100000000',
      ...more,
    },
  });
  const gone = new Promise((resolve) => child.once('exit', resolve));
  for (let round = 0; round < 400; round += 1) {
    if (child.exitCode !== null) throw new Error(`the API ended with ${child.exitCode}`);
    const isUp = await fetch(`http://127.0.0.1:${port}/ready`).then(
      (response) => response.ok,
      () => false,
    );
    if (isUp) break;
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
  return {
    child,
    kill: async (/** @type {'SIGKILL' | 'SIGTERM'} */ signal) => {
      child.kill(signal);
      await gone;
    },
  };
}

/**
 * An organisation with machines of two circuits each, and a source that knows them as `M-0`, `M-1` and so on.
 * @param {string} superuserUrl
 * @param {{ machines: number, sources?: number }} size
 */
export async function makeWorld(superuserUrl, { machines, sources = 1 }) {
  const [organisationId, customerId, siteId] = [randomUUID(), randomUUID(), randomUUID()];
  const secret = randomBytes(32);
  const sourceIds = Array.from({ length: sources }, () => randomUUID());
  /** @type {{ machineId: string, circuitIds: string[] }[]} */
  const made = [];
  await withConnection(superuserUrl, async (client) => {
    await client.query('BEGIN');
    await client.query(`INSERT INTO organisations (id, name, margins_asked) VALUES ($1, 'Bench', '{}')`, [
      organisationId,
    ]);
    await client.query(`INSERT INTO customers (organisation_id, id, name) VALUES ($1, $2, 'Customer')`, [
      organisationId,
      customerId,
    ]);
    await client.query(
      `INSERT INTO sites (organisation_id, customer_id, id, name, place, time_zone) VALUES ($1, $2, $3, 'Works', 'Braga', 'Europe/Lisbon')`,
      [organisationId, customerId, siteId],
    );
    for (let index = 0; index < machines; index += 1) {
      const machineId = randomUUID();
      const unitId = randomUUID();
      await client.query(
        `INSERT INTO machines (organisation_id, customer_id, id, site_id, name, form, way_in) VALUES ($1, $2, $3, $4, $5, 'pallets', 'direct')`,
        [organisationId, customerId, machineId, siteId, `M-${index}`],
      );
      await client.query(
        `INSERT INTO power_units (organisation_id, customer_id, id, machine_id, name, drive) VALUES ($1, $2, $3, $4, 'Unit', 'air')`,
        [organisationId, customerId, unitId, machineId],
      );
      const circuitIds = [randomUUID(), randomUUID()];
      for (const [station, circuitId] of circuitIds.entries()) {
        const stationId = randomUUID();
        await client.query(
          `INSERT INTO stations (organisation_id, customer_id, id, machine_id, name, position) VALUES ($1, $2, $3, $4, $5, $6)`,
          [organisationId, customerId, stationId, machineId, `P${station + 1}`, station + 1],
        );
        await client.query(
          `INSERT INTO circuits (organisation_id, customer_id, id, machine_id, power_unit_id, station_id, name)
           VALUES ($1, $2, $3, $4, $5, $6, $7)`,
          [organisationId, customerId, circuitId, machineId, unitId, stationId, `P${station + 1}`],
        );
      }
      made.push({ machineId, circuitIds });
    }
    for (const [index, sourceId] of sourceIds.entries()) {
      await client.query(`INSERT INTO sources (organisation_id, id, name) VALUES ($1, $2, $3)`, [
        organisationId,
        sourceId,
        `Gateway ${index}`,
      ]);
      await client.query(
        `INSERT INTO source_secrets (organisation_id, id, source_id, secret_sealed) VALUES ($1, $2, $3, $4)`,
        [organisationId, randomUUID(), sourceId, seal(sourceId, secret)],
      );
      await client.query(
        `INSERT INTO source_machines (organisation_id, customer_id, id, source_id, external_reference, machine_id)
         SELECT $1, $2, gen_random_uuid(), $3, r, m FROM unnest($4::text[], $5::uuid[]) AS x (r, m)`,
        [organisationId, customerId, sourceId, made.map((_, at) => `M-${at}`), made.map(({ machineId }) => machineId)],
      );
    }
    await client.query('COMMIT');
    await client.query('ANALYZE');
  });
  return { organisationId, customerId, sourceIds, secret, machines: made };
}

/**
 * As the product seals a secret.
 * @param {string} sourceId
 * @param {Buffer} secret
 */
function seal(sourceId, secret) {
  const key = Buffer.from(hkdfSync('sha256', APP_SECRET, '', 'secrets of sources', 32));
  const nonce = randomBytes(12);
  const cipher = createCipheriv('aes-256-gcm', key, nonce).setAAD(Buffer.from(sourceId));
  const sealed = Buffer.concat([cipher.update(secret), cipher.final()]);
  return Buffer.concat([Uint8Array.of(1), nonce, cipher.getAuthTag(), sealed]);
}

const agent = new http.Agent({ keepAlive: true, maxSockets: 256 });

/**
 * The headers of a delivery, signed.
 * @param {{ secret: Buffer, id: string, body: string }} delivery
 */
function signedHeaders({ secret, id, body }) {
  const at = String(Math.floor(Date.now() / 1000));
  const signature = createHmac('sha256', secret).update(`${id}.${at}.${body}`).digest('base64');
  return {
    'content-type': 'application/json',
    'content-length': Buffer.byteLength(body),
    'webhook-id': id,
    'webhook-timestamp': at,
    'webhook-signature': `v1,${signature}`,
  };
}

/** @param {string} headers */
const waitedOf = (headers) => Number(/server-timing: .*dur=([\d.]+)/i.exec(headers)?.[1] ?? 0);

/**
 * Signs and sends; the status, or 0 when the connection broke.
 * @param {{ port: number, sourceId: string, secret: Buffer, id: string, body: string }} delivery
 * @returns {Promise<{ status: number, text: string }>}
 */
export function deliver({ port, sourceId, ...delivery }) {
  return new Promise((resolve) => {
    const request = http.request(
      {
        agent,
        port,
        host: '127.0.0.1',
        method: 'POST',
        path: `/api/v1/sources/${sourceId}/alarm-counts`,
        headers: signedHeaders(delivery),
      },
      (response) => {
        let text = '';
        response.setEncoding('utf8');
        response.on('data', (/** @type {string} */ data) => (text += data));
        response.on('end', () => resolve({ status: response.statusCode ?? 0, text }));
        response.on('error', () => resolve({ status: 0, text }));
      },
    );
    request.on('error', () => resolve({ status: 0, text: '' }));
    request.end(delivery.body);
  });
}

/**
 * A delivery as the bytes of its request, signed beforehand.
 * @param {{ sourceId: string, secret: Buffer, id: string, body: string }} delivery
 */
export function toRequest({ sourceId, ...delivery }) {
  const headers = Object.entries(signedHeaders(delivery)).map(([name, value]) => `${name}: ${value}\r\n`);
  return `POST /api/v1/sources/${sourceId}/alarm-counts HTTP/1.1\r\nhost: 127.0.0.1\r\n${headers.join('')}\r\n${delivery.body}`;
}

/**
 * One connection that sends what is ready and waits for the answer. A sender on the machine that is measured takes its processors
 * away from it: this one does no more than it must.
 * @param {number} port
 */
export async function openSender(port) {
  const socket = net.connect({ port, host: '127.0.0.1', noDelay: true });
  await once(socket, 'connect');
  let got = '';
  /** @type {((answer: { status: number, text: string, waitedMs: number }) => void) | undefined} */
  let answered;
  /** @type {((error: Error) => void) | undefined} */
  let failed;
  socket.on('error', (error) => failed?.(error));
  socket.setEncoding('latin1');
  socket.on('data', (/** @type {string} */ data) => {
    got += data;
    const end = got.indexOf('\r\n\r\n');
    const length = Number(/content-length: (\d+)/i.exec(got)?.[1] ?? NaN);
    if (end < 0 || !(got.length >= end + 4 + length)) return;
    const [headers, text] = [got.slice(0, end), got.slice(end + 4)];
    got = '';
    answered?.({ status: Number(headers.slice(9, 12)), text, waitedMs: waitedOf(headers) });
  });
  return {
    /** @param {string} request @returns {Promise<{ status: number, text: string, waitedMs: number }>} */
    send: (request) =>
      new Promise((resolve, reject) => {
        answered = resolve;
        failed = reject;
        socket.write(request);
      }),
    close: () => socket.destroy(),
  };
}
