import { allRoutes } from '@repo/contracts';
import type { FastifyInstance } from 'fastify';
import { AppError } from '../errors/app-error.js';

/** Deeper than any shape of the contracts, and far from what exhausts a parser. */
const DEEPEST = 64;
const MEDIA_TYPES = ['application/json', 'application/merge-patch+json'];
const LONE_SURROGATE = /\p{Surrogate}/u;

const malformed = (detail: string): AppError => new AppError('request.malformed', { detail });

/** How deep the brackets of a JSON text nest at the most. Counts brackets outside of strings; whether they match is the parser's. */
export function depthOf(text: string): number {
  let depth = 0;
  let deepest = 0;
  for (let at = 0; at < text.length; at += 1) {
    const code = text.charCodeAt(at);
    if (code === 0x22) {
      at += 1;
      while (at < text.length && text.charCodeAt(at) !== 0x22) at += text.charCodeAt(at) === 0x5c ? 2 : 1;
    } else if (code === 0x5b || code === 0x7b) {
      depth += 1;
      if (depth > deepest) deepest = depth;
    } else if (code === 0x5d || code === 0x7d) depth -= 1;
  }
  return deepest;
}

/** Whether every text in a value, and every name, is well-formed UTF-16: half a pair can neither be stored nor sent on. */
export function isWellFormed(value: unknown): boolean {
  if (typeof value === 'string') return !LONE_SURROGATE.test(value);
  if (typeof value !== 'object' || value === null) return true;
  if (Array.isArray(value)) return value.every(isWellFormed);
  return Object.entries(value).every(([name, inner]) => isWellFormed(name) && isWellFormed(inner));
}

/** Reads a body as JSON. @throws AppError request.malformed */
function readJson(bytes: Buffer): unknown {
  if (bytes.length === 0) throw malformed('The body is empty.');
  let text: string;
  try {
    text = new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    throw malformed('The body is not UTF-8.');
  }
  if (depthOf(text) > DEEPEST) throw malformed(`The body nests deeper than ${DEEPEST}.`);
  let value: unknown;
  try {
    value = JSON.parse(text, (name, inner: unknown) => {
      if (name === '__proto__' || (name === 'constructor' && typeof inner === 'object' && inner !== null)) {
        throw malformed(`The name ${name} is not taken.`);
      }
      return inner;
    });
  } catch (error) {
    throw error instanceof AppError ? error : malformed('The body is not JSON.');
  }
  // Only an escape can bring half a pair in: what came as UTF-8 has none.
  if (/\\u[dD][89a-fA-F]/.test(text) && !isWellFormed(value)) throw malformed('A text is not UTF-16 well-formed.');
  return value;
}

/** What a stranger may send: far more than a sign-in, a link or a passkey takes. */
const LARGEST_OF_STRANGERS = 64 * 1024;
const PUBLIC = new Set(
  allRoutes
    .filter(({ access }) => access === 'public')
    .map(({ method, path }) => `${method} /api/v1${path.replaceAll(/\{(\w+)\}/g, ':$1')}`),
);

/** Routes that anybody may call take little: each byte of a body is read and checked before it is known who sent it. */
export function takeLittleOfStrangers(app: FastifyInstance): void {
  app.addHook('onRoute', (route) => {
    // The door of deliveries says itself what it takes.
    if (route.bodyLimit !== undefined) return;
    if ([route.method].flat().some((method) => PUBLIC.has(`${method} ${route.url}`))) {
      route.bodyLimit = LARGEST_OF_STRANGERS;
    }
  });
}

/** JSON is all that is read as a body, as such or as a merge patch (RFC 7396); nothing else has a reader. */
export function takeJsonOnly(app: FastifyInstance): void {
  app.removeAllContentTypeParsers();
  app.addContentTypeParser(MEDIA_TYPES, { parseAs: 'buffer' }, (_request, body, done) => {
    try {
      done(null, readJson(body as Buffer));
    } catch (error) {
      done(error as Error);
    }
  });
}
