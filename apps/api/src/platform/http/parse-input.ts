import type { Route } from '@repo/contracts';
import type { FastifyRequest } from 'fastify';
import type { z } from 'zod';
import { AppError } from '../errors/app-error.js';
import { versionFromIfMatch } from './etag.js';
import { isUpload } from './files.js';
import { toProblemErrors } from './problem-errors.js';
import type { RouteInput } from './route.decorator.js';

function parsePart(schema: z.ZodType | undefined, value: unknown, root: string): unknown {
  if (schema === undefined) return undefined;
  const parsed = schema.safeParse(value);
  if (parsed.success) return parsed.data;
  const errors = toProblemErrors(parsed.error, value, root);
  const first = errors[0];
  throw new AppError('request.invalid', {
    detail: first === undefined ? 'The request breaks a rule.' : `${first.field || 'The request'}: ${first.needs}.`,
    errors,
  });
}

/** Checks every part of a request against its contract. A path that is no id is simply not there. */
export function parseInput(route: Route, request: FastifyRequest): RouteInput<unknown, unknown, unknown> {
  let params: unknown;
  if (route.params !== undefined) {
    const parsed = route.params.safeParse(request.params);
    if (!parsed.success) throw new AppError('request.not_found', { detail: 'There is no such record here.' });
    params = parsed.data;
  }
  const query = parsePart(route.query, request.query, '?');
  if (route.query === undefined && Object.keys(request.query as object).length > 0) {
    throw new AppError('request.invalid', { detail: 'This address takes no parameters.' });
  }
  // The bytes of a file are read later, once it is known who sends them.
  if ((route.upload === true) !== isUpload(request)) throw new AppError('request.media_type');
  const body = route.upload === true ? undefined : parsePart(route.body, request.body ?? {}, '');
  const version = route.ifMatch === true ? versionFromIfMatch(request.headers['if-match']) : 0;
  return { params, query, body, version };
}
