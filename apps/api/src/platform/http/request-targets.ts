import type { FastifyInstance } from 'fastify';
import { allRoutes } from '@repo/contracts';
import { AppError } from '../errors/app-error.js';

const API = '/api/v1';
/** Paths of the API as patterns, with what is taken there. Beside the contracts: their description, and the door of deliveries. */
const KNOWN = [
  ...allRoutes.map(({ path, method }) => ({ path: API + path, method: method as string })),
  { path: `${API}/openapi.json`, method: 'GET' },
  { path: `${API}/sources/{id}/alarm-counts`, method: 'POST' },
].map(({ path, method }) => ({
  method,
  pattern: new RegExp(`^${path.replace(/[.]/g, '[.]').replace(/\{\w+\}/g, '[^/]+')}$`),
}));

/** Methods that are taken at a path; none where there is no such path. */
function methodsAt(path: string): string[] {
  const methods = new Set(KNOWN.filter(({ pattern }) => pattern.test(path)).map(({ method }) => method));
  if (methods.has('GET')) methods.add('HEAD');
  return [...methods].sort();
}

/** An origin-form target (RFC 9112): one slash, then no other and no backslash, which some readers take for one. */
const isOriginForm = (target: string): boolean => /^\/(?![/\\])/.test(target) && !target.includes('\\');

/**
 * A path of the API that does not say so: the router reads `/%61pi/v1/me` as `/api/v1/me`, while limits, headers and methods go by what is
 * written. Nobody needs to write a letter as an escape.
 */
function isDisguised(path: string): boolean {
  const start = path.slice(0, 40);
  return !path.startsWith('/api') && /^\/api(?:\/|$)/.test(start.replaceAll(/%[0-7][0-9a-f]/gi, decodeURIComponent));
}

/** Refuses targets that name another place than this one, and methods that a known path does not take. */
export function checkTargets(app: FastifyInstance): void {
  app.addHook('onRequest', (request, _reply, done) => {
    const target = request.raw.url ?? '';
    if (!isOriginForm(target)) {
      done(new AppError('request.malformed', { detail: 'The address must be a path of this site.' }));
      return;
    }
    if (request.raw.headers.host === undefined) {
      done(new AppError('request.malformed', { detail: 'The host is missing.' }));
      return;
    }
    const path = target.split('?', 1)[0] ?? '';
    if (isDisguised(path)) {
      done(
        new AppError('request.malformed', { detail: 'The address of the API is written as it is, without escapes.' }),
      );
      return;
    }
    const allow = path.startsWith(`${API}/`) ? methodsAt(path) : [];
    if (allow.length > 0 && !allow.includes(request.method)) done(new AppError('request.method', { allow }));
    else done();
  });
}
