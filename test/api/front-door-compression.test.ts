import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import http from 'node:http';
import type net from 'node:net';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { brotliCompressSync, brotliDecompressSync, gunzipSync, gzipSync } from 'node:zlib';
import { allRoutes, type Route } from '@repo/contracts';
import { uuidv7 } from 'uuidv7';
import { anOrganisation } from '../builders/world.js';
import { PASSWORD, startApi, type TestApi } from '../support/api.js';

const PAGE = `<!doctype html><title>A page</title>${'<p>What is set right holds.</p>'.repeat(200)}`;
const SCRIPT = `export const words = ${JSON.stringify('holds and holds '.repeat(300))};`;
const SECRET_FILE = 'nobody reads this '.repeat(200);

interface Answer {
  status: number;
  headers: http.IncomingHttpHeaders;
  bytes: Buffer;
}

let api: TestApi;
let pages: http.Server;
let folder: string;
let port: number;
let cookie: string;

/** Asks as it is written: no client that decodes, adds headers or tidies an address. */
const ask = (target: string, headers: http.OutgoingHttpHeaders = {}, method = 'GET'): Promise<Answer> =>
  new Promise((resolve, reject) => {
    const request = http.request({ host: '127.0.0.1', port, path: target, method, headers }, (response) => {
      const parts: Buffer[] = [];
      response.on('data', (part: Buffer) => parts.push(part));
      response.on('error', reject);
      response.on('end', () =>
        resolve({ status: response.statusCode ?? 0, headers: response.headers, bytes: Buffer.concat(parts) }),
      );
    });
    request.on('error', reject);
    request.end();
  });
const listen = (server: http.Server): Promise<number> =>
  new Promise((resolve) => server.listen(0, '127.0.0.1', () => resolve((server.address() as net.AddressInfo).port)));

/** A server of pages, as far as the front door can tell. */
function answerAsPages(request: http.IncomingMessage, response: http.ServerResponse): void {
  const send = (headers: http.OutgoingHttpHeaders, body: string | Buffer, status = 200): void => {
    const length = Buffer.byteLength(body);
    response.writeHead(status, { 'content-type': 'text/html; charset=utf-8', 'content-length': length, ...headers });
    response.end(body);
  };
  switch (request.url?.split('?', 1)[0]) {
    case '/slow':
      response.writeHead(200, { 'content-type': 'text/html; charset=utf-8' });
      response.write(PAGE);
      // Its end comes when the test says so.
      pages.once('finish-slow', () => response.end('<p>The end.</p>'));
      return;
    case '/cookie':
      return send({ 'set-cookie': 'kept=1' }, PAGE);
    case '/part':
      return send({ 'content-range': 'bytes 0-99/5000' }, PAGE.slice(0, 100).repeat(20), 206);
    case '/packed':
      return send({ 'content-encoding': 'gzip' }, gzipSync(PAGE));
    case '/picture.png':
      return send({ 'content-type': 'image/png' }, Buffer.alloc(4_000));
    case '/small':
      return send({}, '<p>Small.</p>');
    case '/varies':
      return send({ vary: 'rsc, next-router-state-tree' }, PAGE);
    case '/_next/static/chunks/later.js':
      return send({ 'content-type': 'application/javascript' }, SCRIPT);
    default:
      return request.url?.startsWith('/page') === true ? send({}, PAGE) : send({}, 'There is none.', 404);
  }
}

beforeAll(async () => {
  folder = mkdtempSync(path.join(tmpdir(), 'kedge-static-'));
  const chunks = path.join(folder, 'static', 'chunks');
  mkdirSync(chunks, { recursive: true });
  writeFileSync(path.join(folder, 'secret.js'), SECRET_FILE);
  writeFileSync(path.join(chunks, 'both.js'), SCRIPT);
  writeFileSync(path.join(chunks, 'both.js.br'), brotliCompressSync(SCRIPT));
  writeFileSync(path.join(chunks, 'both.js.gz'), gzipSync(SCRIPT));
  writeFileSync(path.join(chunks, 'plain.woff2'), Buffer.alloc(2_000, 7));
  pages = http.createServer(answerAsPages);
  const webPort = await listen(pages);
  api = await startApi({ WEB_URL: `http://127.0.0.1:${webPort}`, WEB_STATIC_DIR: path.join(folder, 'static') });
  const organisation = await anOrganisation(api, 'Light');
  const administrator = await api.as(organisation.emails.administrator);
  for (let n = 0; n < 30; n += 1) {
    await administrator.post('/customers', { id: uuidv7(), name: `Customer ${n} of the hall with poor reception` });
  }
  await api.app.listen(0, '127.0.0.1');
  ({ port } = api.app.getHttpServer().address() as net.AddressInfo);
  const signedIn = await fetch(`http://127.0.0.1:${port}/api/v1/sessions`, {
    method: 'POST',
    headers: { 'content-type': 'application/json', 'accept-encoding': 'br, gzip' },
    body: JSON.stringify({ email: organisation.emails.administrator, password: PASSWORD }),
  });
  // It sets a cookie, which is a secret.
  expect([signedIn.status, signedIn.headers.get('content-encoding')]).toEqual([201, null]);
  cookie = signedIn.headers.getSetCookie()[0]?.split(';', 1)[0] ?? '';
});
afterAll(async () => {
  await api.stop();
  pages.closeAllConnections();
  pages.close();
  rmSync(folder, { recursive: true });
});

const decode = ({ headers, bytes }: Answer): string => {
  if (headers['content-encoding'] === 'br') return brotliDecompressSync(bytes).toString();
  return (headers['content-encoding'] === 'gzip' ? gunzipSync(bytes) : bytes).toString();
};

const CODINGS: readonly [string | undefined, string | undefined][] = [
  [undefined, undefined],
  ['identity', undefined],
  ['gzip', 'gzip'],
  ['gzip, deflate, br, zstd', 'br'],
  ['br;q=0.1, gzip;q=0.9', 'gzip'],
  ['br;q=0, gzip;q=0', undefined],
  ['identity;q=0, gzip', 'gzip'],
];
const accepting = (accepted: string | undefined): http.OutgoingHttpHeaders =>
  accepted === undefined ? {} : { 'accept-encoding': accepted };

describe('pages and answers', () => {
  it.each(CODINGS)('Accept-Encoding %s: %s', async (accepted, coding) => {
    for (const target of ['/page', '/api/v1/customers', '/api/v1/openapi.json']) {
      const answer = await ask(target, { ...accepting(accepted), cookie });
      expect([target, answer.status, answer.headers['content-encoding']]).toEqual([target, 200, coding]);
      expect(answer.headers.vary).toMatch(/accept-encoding/i);
      const text = decode(answer);
      if (target === '/page') expect(text).toBe(PAGE);
      else expect(JSON.parse(text)).toEqual(expect.any(Object));
      if (coding !== undefined) expect(answer.bytes.length).toBeLessThan(text.length / 2);
      // What carries a length carries the right one.
      const length = answer.headers['content-length'];
      if (length !== undefined) expect(Number(length)).toBe(answer.bytes.length);
    }
  });

  it('a page is sent on as it comes, not when it is whole', async () => {
    const text = await new Promise<string>((resolve, reject) => {
      http.get({ host: '127.0.0.1', port, path: '/slow', headers: { 'accept-encoding': 'gzip' } }, (response) => {
        const parts: Buffer[] = [];
        response.on('data', (part: Buffer) => {
          parts.push(part);
          if (parts.length === 1) pages.emit('finish-slow');
        });
        response.on('error', reject);
        response.on('end', () => resolve(gunzipSync(Buffer.concat(parts)).toString()));
      });
    });
    expect(text).toBe(`${PAGE}<p>The end.</p>`);
  });

  it.each(['/cookie', '/part', '/picture.png', '/small'])('%s is left as it is', async (target) => {
    const answer = await ask(target, { 'accept-encoding': 'br, gzip' });
    expect([answer.headers['content-encoding'], answer.status]).toEqual([undefined, target === '/part' ? 206 : 200]);
  });

  it('what is compressed already is not compressed again, and a range is not compressed', async () => {
    expect(decode(await ask('/packed', { 'accept-encoding': 'br, gzip' }))).toBe(PAGE);
    const part = await ask('/page', { 'accept-encoding': 'br', range: 'bytes=0-9' });
    expect(part.headers['content-encoding']).toBeUndefined();
  });

  it('what a page depends on already stays named', async () => {
    const { headers } = await ask('/varies', { 'accept-encoding': 'br' });
    expect(headers.vary).toBe('rsc, next-router-state-tree, Accept-Encoding');
  });

  it('HEAD tells what GET would, without a body', async () => {
    for (const target of ['/page', '/api/v1/customers']) {
      const { headers, bytes, status } = await ask(target, { 'accept-encoding': 'br', cookie }, 'HEAD');
      expect([status, headers['content-encoding'], bytes.length]).toEqual([200, 'br', 0]);
      expect(headers.vary).toMatch(/accept-encoding/i);
      expect(headers['content-length']).toBeUndefined();
    }
  });

  it('a record with a tag keeps its bytes and its 304', async () => {
    const me = await ask('/api/v1/me', { 'accept-encoding': 'br', cookie });
    expect([me.status, me.headers['content-encoding']]).toEqual([200, undefined]);
    const again = await ask('/api/v1/me', { 'accept-encoding': 'br', cookie, 'if-none-match': me.headers.etag });
    expect([again.status, again.bytes.length, again.headers['content-encoding']]).toEqual([304, 0, undefined]);
  });
});

/** Names under which something secret stands in an answer. */
const SECRET = /^(?:secret|token|password|recoveryCodes|link|url|keyUri|otpauth\w*|challenge)$/i;

type Schema = NonNullable<Route['response']>;

/** Names of all texts that a shape can hold. */
function textsIn(schema: Schema, name = '', seen = new Set<Schema>()): string[] {
  if (seen.has(schema)) return [];
  seen.add(schema);
  const { def } = schema as unknown as { def: Record<string, unknown> };
  if (def['type'] === 'string') return [name];
  const inner: [string, unknown][] = [
    ...Object.entries((def['shape'] ?? {}) as object),
    ...['innerType', 'element', 'valueType', 'left', 'right', 'in', 'out'].map((key): [string, unknown] => [
      name,
      def[key],
    ]),
    ...((def['options'] ?? def['items'] ?? []) as unknown[]).map((option): [string, unknown] => [name, option]),
  ];
  return inner.flatMap(([key, value]) =>
    typeof value === 'object' && value !== null && 'def' in value ? textsIn(value as Schema, key, seen) : [],
  );
}

const secretsOf = ({ response }: Route): string[] =>
  response === undefined ? [] : textsIn(response).filter((name) => SECRET.test(name));

describe('answers that hold a secret', () => {
  const showing = allRoutes.filter((route) => secretsOf(route).length > 0);

  it('are known by their shapes', () => {
    const ids = showing.map(({ id }) => id);
    expect(ids).toEqual(
      expect.arrayContaining([
        'createApiKey',
        'rotateApiKeySecret',
        'createSource',
        'createInvitation',
        'renewRecoveryCodes',
      ]),
    );
  });

  it('are never what is compressed', () => {
    const compressed = showing.filter(({ method, access }) => method === 'GET' && typeof access !== 'string');
    expect(compressed.map(({ id }) => [id])).toEqual([]);
  });

  it('a key that is made is sent as it is', async () => {
    const body = JSON.stringify({
      id: uuidv7(),
      name: 'k'.repeat(100),
      role: 'lead',
      mayWrite: false,
      areas: Array.from({ length: 40 }, () => 'customers'),
    });
    const made = await fetch(`http://127.0.0.1:${port}/api/v1/api-keys`, {
      method: 'POST',
      headers: {
        cookie,
        'content-type': 'application/json',
        'accept-encoding': 'br, gzip',
        origin: `http://127.0.0.1:${port}`,
        'idempotency-key': `"${uuidv7()}"`,
      },
      body,
    });
    expect([made.status, made.headers.get('content-encoding')]).toEqual([201, null]);
    expect(await made.json()).toHaveProperty('secret');
  });
});

describe('files that pages load', () => {
  const BOTH = '/_next/static/chunks/both.js';

  it.each(CODINGS)('Accept-Encoding %s: %s', async (accepted, coding) => {
    const answer = await ask(BOTH, accepting(accepted));
    expect([answer.status, answer.headers['content-encoding']]).toEqual([200, coding]);
    expect(decode(answer)).toBe(SCRIPT);
    expect(answer.headers).toMatchObject({
      vary: 'Accept-Encoding',
      'cache-control': 'public, max-age=31536000, immutable',
      'content-type': 'application/javascript; charset=utf-8',
      'content-length': String(answer.bytes.length),
      'x-content-type-options': 'nosniff',
    });
    expect(answer.headers['content-security-policy']).toContain("'wasm-unsafe-eval'");
  });

  it('each way of sending has a tag of its own, and 304 says as much', async () => {
    const tags = new Set<string>();
    for (const accepted of ['identity', 'gzip', 'br']) {
      const { headers } = await ask(BOTH, { 'accept-encoding': accepted });
      const etag = headers.etag ?? '';
      tags.add(etag);
      const again = await ask(BOTH, { 'accept-encoding': accepted, 'if-none-match': `"other", W/${etag}` });
      expect([again.status, again.bytes.length]).toEqual([304, 0]);
      expect(again.headers).toMatchObject({ etag, vary: 'Accept-Encoding', 'cache-control': headers['cache-control'] });
    }
    expect(tags.size).toBe(3);
  });

  it('HEAD tells the length, and a range is answered whole', async () => {
    const whole = await ask(BOTH, { 'accept-encoding': 'br' });
    const head = await ask(BOTH, { 'accept-encoding': 'br' }, 'HEAD');
    expect([head.status, head.bytes.length, head.headers['content-length']]).toEqual([
      200,
      0,
      whole.headers['content-length'],
    ]);
    const part = await ask(BOTH, { 'accept-encoding': 'br', range: 'bytes=0-9' });
    expect([part.status, decode(part)]).toEqual([200, SCRIPT]);
  });

  it('a file that does not shrink is sent as it is', async () => {
    const { headers, bytes } = await ask('/_next/static/chunks/plain.woff2', { 'accept-encoding': 'br' });
    expect([headers['content-encoding'], headers.vary, headers['content-type'], bytes.length]).toEqual([
      undefined,
      undefined,
      'font/woff2',
      2_000,
    ]);
  });

  it('what is not there comes from the server of pages', async () => {
    expect(decode(await ask('/_next/static/chunks/later.js', { 'accept-encoding': 'br' }))).toBe(SCRIPT);
  });

  it.each([
    '/_next/static/../secret.js',
    '/_next/static/%2e%2e/secret.js',
    '/_next/static/..%2fsecret.js',
    '/_next/static/chunks/..%5c..%5csecret.js',
    '/_next/static/chunks/%2e%2e%2f%2e%2e%2fsecret.js',
    '/_next/static//etc/passwd',
    '/_next/static/chunks/both.js%00.png',
    '/_next/static/chunks/both.js.br',
    '/_next/static/chunks',
    '/_next/static/',
  ])('%s leads nowhere', async (target) => {
    const answer = await ask(target);
    expect(answer.status).toBeGreaterThanOrEqual(400);
    expect(answer.bytes.toString()).not.toContain('nobody reads this');
    expect(answer.bytes.toString()).not.toContain('root:');
  });
});
