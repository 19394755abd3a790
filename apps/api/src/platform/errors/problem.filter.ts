import { Catch, HttpException, type ArgumentsHost, type ExceptionFilter } from '@nestjs/common';
import { PROBLEM_CODES, type Problem, type ProblemCode } from '@repo/contracts';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { AppError } from './app-error.js';
import { fromDatabaseError } from './database-errors.js';

const BY_STATUS: Record<number, ProblemCode> = {
  400: 'request.malformed',
  401: 'session.needed',
  403: 'session.role',
  404: 'request.not_found',
  405: 'request.method',
  408: 'request.timeout',
  413: 'request.too_large',
  414: 'request.address_too_long',
  415: 'request.media_type',
  429: 'request.too_many',
  431: 'request.headers_too_large',
};

function toAppError(error: unknown): AppError | null {
  if (error instanceof AppError) return error;
  const status =
    error instanceof HttpException
      ? error.getStatus()
      : typeof error === 'object' && error !== null && 'statusCode' in error && typeof error.statusCode === 'number'
        ? error.statusCode
        : null;
  const code = status === null ? undefined : BY_STATUS[status];
  if (code !== undefined) return new AppError(code);
  return fromDatabaseError(error);
}

/** The problem that an error is told as. What is not foreseen is a plain fault. */
function toProblem(known: AppError | null, { url, id }: { url: string; id: string }): Problem {
  const { code, details } = known ?? { code: 'service.fault' as const, details: {} };
  const { status, title } = PROBLEM_CODES[code];
  return {
    type: `/reference/problems#${code}`,
    title,
    status,
    detail: details.detail ?? title,
    instance: (url.split('?', 1)[0] ?? '/').slice(0, 400),
    code,
    requestId: id,
    ...(details.currentEtag === undefined ? {} : { currentEtag: details.currentEtag }),
    ...(details.errors === undefined ? {} : { errors: details.errors }),
  };
}

/** Writes any error as problem details. What is not foreseen is logged whole and told as a plain fault. */
export function sendProblem(error: unknown, request: FastifyRequest, reply: FastifyReply): void {
  const known = toAppError(error);
  if (known === null) request.log.error({ err: error }, 'unforeseen error');
  const problem = toProblem(known, request);
  const { retryAfterS, currentEtag, allow } = known?.details ?? {};
  if (retryAfterS !== undefined) reply.header('retry-after', String(retryAfterS));
  if (currentEtag !== undefined) reply.header('etag', currentEtag);
  if (allow !== undefined) reply.header('allow', allow.join(', '));
  reply
    .code(problem.status)
    .header('cache-control', 'no-store')
    .type('application/problem+json')
    .send(JSON.stringify(problem));
}

/** The same for bytes that never became a request: a whole answer, to be written to the socket. */
export function writeProblem(error: AppError, headers: Readonly<Record<string, string>>): string {
  const problem = toProblem(error, { url: '/', id: '' });
  const body = JSON.stringify(problem);
  const lines = Object.entries({
    ...headers,
    'content-type': 'application/problem+json',
    'content-length': String(Buffer.byteLength(body)),
    'cache-control': 'no-store',
    connection: 'close',
  }).map(([name, value]) => `${name}: ${value}`);
  return `HTTP/1.1 ${problem.status} ${problem.title}\r\n${lines.join('\r\n')}\r\n\r\n${body}`;
}

@Catch()
export class ProblemFilter implements ExceptionFilter {
  catch(error: unknown, host: ArgumentsHost): void {
    const http = host.switchToHttp();
    sendProblem(error, http.getRequest<FastifyRequest>(), http.getResponse<FastifyReply>());
  }
}
