import http from 'node:http';
import { seeded } from '../drill/deliveries.mjs';
import { makeId, makeValue, pick } from './shapes.mjs';

/** @typedef {import('./shapes.mjs').Schema} Schema */
/** @typedef {ReturnType<typeof seeded>} Random */

/**
 * @typedef {object} FuzzTarget
 * @property {number} port of 127.0.0.1; no other machine is ever asked
 * @property {Readonly<Record<string, string>>} cookies of each role that is signed in
 * @property {readonly string[]} ids of records that are there
 */

/** @typedef {{ method: string, path: string, operation: Schema }} Operation */
/** @typedef {{ status: number, headers: http.IncomingHttpHeaders, text: string }} Answer */

/** They end the sessions with which the rest is asked. */
const LEFT_OUT = new Set([
  'endCurrentSession',
  'endOtherSessions',
  'endSession',
  'endMembershipSession',
  'updateMembership',
]);
const AT_ONCE = 6;
const LONGEST_MS = 30_000;
const HARDENING = ['x-content-type-options', 'x-frame-options', 'content-security-policy', 'x-request-id'];

/**
 * Asks so many requests that are made from the API's own description, as every role and as nobody.
 * @param {FuzzTarget} target
 * @param {{ requests: number, seed?: number }} options
 * @returns {Promise<{ asked: number, statuses: Record<string, number>, faults: string[] }>} what was not as it must be
 */
export async function fuzz({ port, cookies, ids }, { requests, seed = 1 }) {
  const agent = new http.Agent({ keepAlive: true, maxSockets: AT_ONCE });
  const document = JSON.parse(
    (await ask(agent, port, { method: 'GET', path: '/api/v1/openapi.json', headers: {} })).text,
  );
  const operations = listOperations(document);
  const random = seeded(seed);
  /** @type {Record<string, number>} */
  const statuses = {};
  /** @type {string[]} */
  const faults = [];
  let left = requests;
  const sender = async () => {
    while (left > 0) {
      left -= 1;
      const request = makeRequest(random, document, pick(random, operations), { cookies, ids });
      const answer = await ask(agent, port, request);
      statuses[answer.status] = (statuses[answer.status] ?? 0) + 1;
      const fault = findFault(answer);
      if (fault !== null)
        faults.push(`${fault}: ${request.method} ${request.path} ${request.body ?? ''}`.slice(0, 600));
    }
  };
  try {
    await Promise.all(Array.from({ length: AT_ONCE }, sender));
  } finally {
    agent.destroy();
  }
  return { asked: requests, statuses, faults };
}

/** @param {Schema} document @returns {Operation[]} */
function listOperations(document) {
  return Object.entries(document.paths).flatMap(([path, methods]) =>
    Object.entries(methods)
      .map(([method, operation]) => ({ method: method.toUpperCase(), path, operation }))
      .filter(({ operation }) => !LEFT_OUT.has(operation.operationId)),
  );
}

/**
 * @param {Random} random
 * @param {Schema} document
 * @param {Operation} operation
 * @param {{ cookies: Readonly<Record<string, string>>, ids: readonly string[] }} world
 */
function makeRequest(random, document, { method, path, operation }, { cookies, ids }) {
  const making = { random, document, ids, wrongness: random.chance(0.5) ? 0.02 : 0.15 };
  let filled = path;
  const query = new URLSearchParams();
  for (const parameter of operation.parameters ?? []) {
    if (parameter.in === 'path') filled = filled.replace(`{${parameter.name}}`, () => makeSegment(random, ids));
    else if (parameter.in === 'query' && (parameter.required || random.chance(0.4))) {
      const value = makeValue(parameter.schema, making);
      query.append(parameter.name, typeof value === 'string' ? value : (JSON.stringify(value) ?? ''));
    }
  }
  if (random.chance(0.03)) query.append(pick(random, ['x', '__proto__', '\ud800']), pick(random, ['', '%', '\u0000']));
  const content = operation.requestBody?.content ?? {};
  const [type] = Object.keys(content);
  const body = type === undefined ? undefined : makeBody(content[type].schema, making, random);
  return {
    method,
    path: `${filled}${query.size === 0 ? '' : `?${query}`}`,
    headers: makeHeaders(random, pick(random, ['', ...Object.values(cookies)]), type),
    ...(body === undefined ? {} : { body }),
  };
}

/** @param {Schema} schema @param {import('./shapes.mjs').Making} making @param {Random} random */
function makeBody(schema, making, random) {
  if (random.chance(0.02))
    return pick(random, ['', '{', 'null', '[]', '"x"', '['.repeat(20_000), '{"a":"\\ud800"}', 'ÿ']);
  return JSON.stringify(makeValue(schema, making));
}

/** @param {Random} random @param {readonly string[]} ids */
function makeSegment(random, ids) {
  if (random.chance(0.7) && ids.length > 0) return pick(random, ids);
  return pick(random, [
    makeId(random),
    'x',
    '%00',
    '..%2f..',
    '%ED%A0%80',
    'cylinder-force',
    'a'.repeat(150),
    'customers',
  ]);
}

/** @param {Random} random @param {string} cookie @param {string | undefined} type */
function makeHeaders(random, cookie, type) {
  /** @type {Record<string, string>} */
  const headers = {};
  if (cookie !== '') headers.cookie = random.chance(0.03) ? `${cookie}x; a="b\\"; ;;=` : cookie;
  if (type !== undefined) {
    headers['content-type'] = random.chance(0.04)
      ? pick(random, ['text/plain', 'application/json; charset=utf-16', 'x', 'application/xml'])
      : type;
  }
  if (random.chance(0.8))
    headers['idempotency-key'] = random.chance(0.05) ? pick(random, ['x', '""', '"a b"']) : `"${makeId(random)}"`;
  if (random.chance(0.8))
    headers['if-match'] = random.chance(0.1)
      ? pick(random, ['*', '"x"', 'W/"v1"', '"v99999999999"'])
      : `"v${1 + random.whole(3)}"`;
  if (random.chance(0.03))
    headers.authorization = pick(random, ['Bearer x', 'Bearer kedge_key_x', 'Basic eDp4', 'Bearer']);
  if (random.chance(0.02)) headers['sec-fetch-site'] = pick(random, ['cross-site', 'same-origin', 'x']);
  if (random.chance(0.02)) headers['x-forwarded-for'] = pick(random, ['127.0.0.1', 'x', '1.1.1.1, 2.2.2.2']);
  if (random.chance(0.02)) headers['if-none-match'] = '"v1"';
  if (random.chance(0.02)) headers.accept = pick(random, ['text/html', '*/*;q=0', 'x']);
  if (random.chance(0.01)) headers['x-long'] = 'a'.repeat(9_000);
  return headers;
}

/**
 * @param {http.Agent} agent
 * @param {number} port
 * @param {{ method: string, path: string, headers: Record<string, string>, body?: string }} request
 * @returns {Promise<Answer>}
 */
function ask(agent, port, { method, path, headers, body }) {
  return new Promise((resolve) => {
    const sent = body === undefined ? {} : { 'content-length': String(Buffer.byteLength(body)) };
    const call = http.request(
      { agent, host: '127.0.0.1', port, method, path, headers: { ...headers, ...sent } },
      (response) => {
        /** @type {Buffer[]} */
        const parts = [];
        response.on('data', (part) => parts.push(part));
        response.on('error', () => resolve({ status: 0, headers: {}, text: 'the answer broke off' }));
        response.on('end', () =>
          resolve({
            status: response.statusCode ?? 0,
            headers: response.headers,
            text: Buffer.concat(parts).toString('utf8'),
          }),
        );
      },
    );
    call.setTimeout(LONGEST_MS, () => call.destroy(new Error(`no answer within ${LONGEST_MS} ms`)));
    call.on('error', (error) => resolve({ status: 0, headers: {}, text: error.message }));
    call.end(body);
  });
}

/** @param {Answer} answer @returns {string | null} */
function findFault({ status, headers, text }) {
  if (status === 0) return `no answer (${text})`;
  if (status >= 500 && !(status === 503 && headers['retry-after'] !== undefined))
    return `${status} ${text.slice(0, 200)}`;
  const missing = HARDENING.find((name) => headers[name] === undefined);
  if (missing !== undefined) return `${status} without ${missing}`;
  const isProblem = String(headers['content-type']).startsWith('application/problem+json');
  if (status >= 400 && !isProblem) return `${status} as ${headers['content-type']}`;
  return null;
}
