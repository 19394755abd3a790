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
  413: 'request.too_large',
  415: 'request.media_type',
  429: 'request.too_many',
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

/** Writes any error as problem details. What is not foreseen is logged whole and told as a plain fault. */
export function sendProblem(error: unknown, request: FastifyRequest, reply: FastifyReply): void {
  const known = toAppError(error);
  if (known === null) request.log.error({ err: error }, 'unforeseen error');
  const { code, details } = known ?? { code: 'service.fault' as const, details: {} };
  const { status, title } = PROBLEM_CODES[code];
  const problem: Problem = {
    type: `/reference/problems#${code}`,
    title,
    status,
    detail: details.detail ?? title,
    instance: request.url.split('?', 1)[0] ?? '/',
    code,
    requestId: request.id,
    ...(details.currentEtag === undefined ? {} : { currentEtag: details.currentEtag }),
    ...(details.errors === undefined ? {} : { errors: details.errors }),
  };
  if (details.retryAfterS !== undefined) reply.header('retry-after', String(details.retryAfterS));
  if (details.currentEtag !== undefined) reply.header('etag', details.currentEtag);
  reply.code(status).header('cache-control', 'no-store').type('application/problem+json').send(JSON.stringify(problem));
}

@Catch()
export class ProblemFilter implements ExceptionFilter {
  catch(error: unknown, host: ArgumentsHost): void {
    const http = host.switchToHttp();
    sendProblem(error, http.getRequest<FastifyRequest>(), http.getResponse<FastifyReply>());
  }
}
