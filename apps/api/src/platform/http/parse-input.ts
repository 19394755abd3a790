import type { ProblemError, Route } from '@repo/contracts';
import type { FastifyRequest } from 'fastify';
import type { z } from 'zod';
import { AppError } from '../errors/app-error.js';
import { versionFromIfMatch } from './etag.js';
import { isUpload } from './files.js';
import { needsOf } from './needs.js';
import type { RouteInput } from './route.decorator.js';

const show = (value: unknown): string => {
  const text = value === undefined ? 'nothing' : JSON.stringify(value);
  return text.length > 120 ? `${text.slice(0, 117)}...` : text;
};

const at = (value: unknown, path: readonly PropertyKey[]): unknown =>
  path.reduce<unknown>(
    (inner, key) =>
      typeof inner === 'object' && inner !== null ? (inner as Record<PropertyKey, unknown>)[key] : undefined,
    value,
  );

/** More rows help nobody, and would make an answer many times as large as what was sent. */
const MOST_ROWS = 100;

/** The problem's rows: which field, what it got, what it needs. */
export function toProblemErrors(error: z.ZodError, value: unknown, root: string): ProblemError[] {
  const rows = error.issues.slice(0, MOST_ROWS).flatMap((issue) => {
    const unknown = issue.code === 'unrecognized_keys' ? issue.keys.slice(0, MOST_ROWS) : null;
    const paths = unknown === null ? [issue.path] : unknown.map((key) => [...issue.path, key]);
    const custom = issue.code === 'custom' ? (issue.params as { code?: string } | undefined)?.code : undefined;
    return paths.map((path) => ({
      pointer: `${root}${path.map((part) => `/${String(part).replaceAll('~', '~0').replaceAll('/', '~1')}`).join('')}`,
      field: path.map(String).join('.'),
      got: show(at(value, path)),
      needs: needsOf(issue),
      code: custom ?? issue.code,
    }));
  });
  return rows.slice(0, MOST_ROWS);
}

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
