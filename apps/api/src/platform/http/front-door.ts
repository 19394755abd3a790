import { randomBytes } from 'node:crypto';
import type { Socket } from 'node:net';
import type { ProblemCode } from '@repo/contracts';
import replyFrom from '@fastify/reply-from';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import type { Env } from '../../config/env.js';
import { AppError } from '../errors/app-error.js';
import { sendProblem, writeProblem } from '../errors/problem.filter.js';
import { openApiDocument } from './openapi.js';
import { StaticFiles } from './static-files.js';

const isApi = (url: string): boolean => url === '/api' || url.startsWith('/api/');

/** Scripts that pages load. A worker obeys the policy of its own script, a page that of its document. */
const isScript = (url: string): boolean => url.startsWith('/_next/static/');

/**
 * What every answer carries. The nonce is new for each page. No page may compile WebAssembly: only a worker may, since the
 * solver of the calculations runs in one.
 */
function contentSecurityPolicy(url: string, nonce: string, isTls: boolean): string {
  const scripts = isScript(url) ? "'self' 'wasm-unsafe-eval'" : `'self' 'nonce-${nonce}' 'strict-dynamic'`;
  return [
    "default-src 'self'",
    `script-src ${scripts}`,
    `style-src 'self' 'nonce-${nonce}'`,
    "img-src 'self' data: blob:",
    "font-src 'self'",
    "connect-src 'self'",
    "worker-src 'self' blob:",
    "object-src 'none'",
    "base-uri 'none'",
    "form-action 'self'",
    "frame-ancestors 'none'",
    ...(isTls ? ['upgrade-insecure-requests'] : []),
  ].join('; ');
}

/** Headers that every answer of this origin carries. */
const hardening = (isTls: boolean): Readonly<Record<string, string>> => ({
  'x-content-type-options': 'nosniff',
  'referrer-policy': 'same-origin',
  'cross-origin-opener-policy': 'same-origin',
  'cross-origin-resource-policy': 'same-origin',
  'permissions-policy': 'camera=(self), microphone=(), geolocation=(), interest-cohort=()',
  'x-frame-options': 'DENY',
  ...(isTls ? { 'strict-transport-security': 'max-age=31536000' } : {}),
});
const API_POLICY = "default-src 'none'; frame-ancestors 'none'";

export function hardenHeaders(app: FastifyInstance, env: Env): void {
  const headers = hardening(env.TLS_CERT !== undefined);
  app.addHook('onSend', async (request, reply, payload) => {
    reply.headers(headers).header('x-request-id', request.id);
    // What is told as a problem is no page, wherever it was asked for.
    const isProblem = String(reply.getHeader('content-type')).startsWith('application/problem+json');
    if (isApi(request.url) || isProblem) reply.header('content-security-policy', API_POLICY);
    return payload;
  });
}

/** Answers an address that cannot even be decoded: no route and no hook is found for it. */
export function answerBrokenAddresses(
  env: Env,
): (error: unknown, request: FastifyRequest, reply: FastifyReply) => void {
  const headers = { ...hardening(env.TLS_CERT !== undefined), 'content-security-policy': API_POLICY };
  return (_error, request, reply) => {
    reply.headers(headers).header('x-request-id', request.id);
    sendProblem(new AppError('request.malformed', { detail: 'The address cannot be read.' }), request, reply);
  };
}

/** Why bytes did not become a request, as the parser of HTTP names it. */
const PARSER_ERRORS: Readonly<Record<string, ProblemCode>> = {
  HPE_HEADER_OVERFLOW: 'request.headers_too_large',
  ERR_HTTP_REQUEST_TIMEOUT: 'request.timeout',
  HPE_CHUNK_EXTENSIONS_OVERFLOW: 'request.too_large',
};

/** Answers what never became a request with a problem as well, headers and all. */
export function answerBrokenRequests(env: Env): (error: NodeJS.ErrnoException, socket: Socket) => void {
  const headers = { ...hardening(env.TLS_CERT !== undefined), 'content-security-policy': API_POLICY };
  return (error, socket) => {
    if (error.code === 'ECONNRESET' || !socket.writable) {
      socket.destroy();
      return;
    }
    socket.end(writeProblem(new AppError(PARSER_ERRORS[error.code ?? ''] ?? 'request.malformed'), headers));
  };
}

/**
 * Where the page server may read here what a page reads first; empty: the page reads for itself. An address with a query is one that a
 * stranger may have chosen, and an answer that is compressed never holds somebody's data beside that. Of TLS it could not check the
 * certificate.
 */
const findFirstDataPort = (request: FastifyRequest, env: Env): string =>
  env.TLS_CERT !== undefined || request.url.includes('?') ? '' : String(request.socket.localPort ?? '');

/** One origin: the API here, every page from Next behind it. */
export async function openFrontDoor(app: FastifyInstance, env: Env): Promise<void> {
  let document: string | null = null;
  // These routes are none of the framework's, whose filter would else tell what goes wrong.
  const errorHandler = sendProblem;
  app.get('/api/v1/openapi.json', { errorHandler }, (_request, reply) => {
    document ??= JSON.stringify(openApiDocument());
    reply.header('cache-control', 'public, max-age=60').type('application/json').send(document);
  });
  const missing = (request: FastifyRequest): AppError =>
    new AppError('request.not_found', { detail: `There is no ${request.url.split('?', 1)[0] ?? ''} here.` });
  const upstream = env.WEB_URL;
  if (upstream === undefined) return;
  await app.register(replyFrom, { base: upstream, undici: { connections: 64 } });
  const files = env.WEB_STATIC_DIR === undefined ? null : new StaticFiles(env.WEB_STATIC_DIR);
  app.get('/*', { errorHandler }, async (request, reply) => {
    if (isApi(request.url)) {
      sendProblem(missing(request), request, reply);
      return reply;
    }
    const nonce = randomBytes(18).toString('base64');
    const policy = contentSecurityPolicy(request.url, nonce, env.TLS_CERT !== undefined);
    if (files !== null && isScript(request.url)) {
      reply.header('content-security-policy', policy);
      if (await files.send(request, reply)) return reply;
    }
    return reply.from(request.url, {
      rewriteRequestHeaders: (_request, headers) => ({
        ...headers,
        'content-security-policy': policy,
        'x-forwarded-host': request.headers.host ?? '',
        'x-forwarded-proto': env.TLS_CERT === undefined ? 'http' : 'https',
        'x-api-port': findFirstDataPort(request, env),
      }),
      rewriteHeaders: (headers) => {
        const kept = new Map(Object.entries(headers as Record<string, string | string[] | undefined>));
        kept.delete('x-powered-by');
        return { ...Object.fromEntries(kept), 'content-security-policy': policy };
      },
      onError: (failing, { error }) => {
        request.log.warn({ err: error }, 'the pages cannot be reached');
        failing
          .code(503)
          .header('retry-after', '2')
          .type('text/html; charset=utf-8')
          .send('<!doctype html><title>Kedge</title><p>The pages are starting. Try again in a few seconds.</p>');
      },
    });
  });
}
