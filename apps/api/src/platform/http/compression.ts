import { pipeline, Readable } from 'node:stream';
import { promisify } from 'node:util';
import { brotliCompress, constants, createBrotliCompress, createGzip, gzip, type BrotliOptions } from 'node:zlib';
import { allRoutes, type Route } from '@repo/contracts';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { chooseCoding, type Coding } from './content-coding.js';

/** Below this the headers weigh as much. */
const LEAST_BYTES = 1_024;
const TEXT =
  /^(?:text\/(?:html|css|plain|csv|javascript|x-component)|application\/(?:javascript|json)|image\/svg\+xml)\b/;

/** A level that costs a core about as much as writing the answer does. What is streamed is sent on piece by piece. */
const brotli = (isStream: boolean): BrotliOptions => ({
  params: { [constants.BROTLI_PARAM_QUALITY]: 4, [constants.BROTLI_PARAM_MODE]: constants.BROTLI_MODE_TEXT },
  ...(isStream ? { flush: constants.BROTLI_OPERATION_FLUSH } : {}),
});
const GZIP_LEVEL = 5;

/**
 * Whether a route's answer may be compressed. The length of what is compressed tells whether it repeats itself: where a secret stands
 * beside what a stranger chose, the stranger guesses it letter by letter (BREACH). Secrets are shown by what makes them, which is
 * never a GET, and by what serves somebody who is not in an organisation yet; a test reads every answer's shape for others.
 */
const mayCompress = ({ method, access, recentProof }: Route): boolean =>
  method === 'GET' && typeof access !== 'string' && recentProof !== true;

/** Addresses, as the router has them, whose answers may be compressed: those of the contracts, their description, and pages, which know nobody. */
const COMPRESSED: ReadonlySet<string | undefined> = new Set([
  ...allRoutes.filter(mayCompress).map(({ path }) => `/api/v1${path.replaceAll(/\{(\w+)\}/g, ':$1')}`),
  '/api/v1/openapi.json',
  '/*',
]);

function isCompressible(request: FastifyRequest, reply: FastifyReply): boolean {
  if (request.method !== 'GET' && request.method !== 'HEAD') return false;
  if (!COMPRESSED.has(request.routeOptions.url) || !TEXT.test(String(reply.getHeader('content-type')))) return false;
  if (reply.statusCode === 204 || reply.statusCode === 206 || reply.statusCode === 304) return false;
  // A strong tag names these very bytes, and comes back as If-Match.
  return !['set-cookie', 'content-encoding', 'content-range', 'etag'].some((name) => reply.hasHeader(name));
}

const compressWhole = { br: promisify(brotliCompress), gzip: promisify(gzip) };

const compressBytes = (coding: Coding, bytes: Buffer): Promise<Buffer> =>
  coding === 'br' ? compressWhole.br(bytes, brotli(false)) : compressWhole.gzip(bytes, { level: GZIP_LEVEL });

function compressStream(coding: Coding, source: Readable, request: FastifyRequest): Readable {
  const target =
    coding === 'br'
      ? createBrotliCompress(brotli(true))
      : createGzip({ level: GZIP_LEVEL, flush: constants.Z_SYNC_FLUSH });
  return pipeline(source, target, (error) => {
    if (error) request.log.debug({ err: error }, 'an answer ended before its time');
  });
}

/** Names what the answer depends on, beside what is named already. */
export function varyByCoding(reply: FastifyReply): void {
  const before = reply.getHeader('vary');
  if (before === undefined) reply.header('vary', 'Accept-Encoding');
  else if (!/accept-encoding|\*/i.test(String(before))) reply.header('vary', `${String(before)}, Accept-Encoding`);
}

/** Compresses what is made anew for each request: pages, and answers of the API that hold no secret. */
export function compressAnswers(app: FastifyInstance): void {
  app.addHook('onSend', async (request, reply, payload: unknown) => {
    if (payload === null || payload === undefined || !isCompressible(request, reply)) return payload;
    varyByCoding(reply);
    const coding = chooseCoding(request.headers['accept-encoding']);
    if (coding === null || request.headers.range !== undefined) return payload;
    const bytes = typeof payload === 'string' ? Buffer.from(payload) : Buffer.isBuffer(payload) ? payload : null;
    if (Number(bytes?.length ?? reply.getHeader('content-length') ?? Infinity) < LEAST_BYTES) return payload;
    if (bytes === null && !(payload instanceof Readable)) return payload;
    reply.header('content-encoding', coding).removeHeader('content-length');
    // Its length would only be known by compressing it.
    if (request.method === 'HEAD') return Readable.from([]);
    return bytes === null ? compressStream(coding, payload as Readable, request) : compressBytes(coding, bytes);
  });
}
