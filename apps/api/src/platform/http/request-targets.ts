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
    const allow = path.startsWith(`${API}/`) ? methodsAt(path) : [];
    if (allow.length > 0 && !allow.includes(request.method)) done(new AppError('request.method', { allow }));
    else done();
  });
}
