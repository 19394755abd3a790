import type { FastifyInstance, FastifyRequest } from 'fastify';
import { AppError } from '../errors/app-error.js';
import { isUploadType, LARGEST_UPLOAD } from './files.js';

const MIB = 1_048_576;
/** Bytes of bodies that are held at once: of one address, and of all. What is sent slowly is held for as long. */
const MOST_HELD = { address: 64 * MIB, all: 512 * MIB };
/** A body that does not say how long it is may become as long as most may be. */
const UNSAID = MIB;
const COME_BACK_S = 3;

/** How much this request may come to hold. */
function announced(request: FastifyRequest): number {
  const statedLength = request.headers['content-length'];
  if (statedLength !== undefined) return Math.min(Number(statedLength) || 0, LARGEST_UPLOAD);
  if (request.headers['transfer-encoding'] === undefined) return 0;
  return isUploadType(request.headers['content-type']) ? LARGEST_UPLOAD : UNSAID;
}

/**
 * Bounds the memory that bodies take before it is known who sends them: each is held until it is whole, and thousands that stop a byte
 * before their end would fill it.
 */
export function boundHeldBodies(app: FastifyInstance): void {
  const byAddress = new Map<string, number>();
  let all = 0;
  app.addHook('onRequest', (request, reply, done) => {
    const bytes = announced(request);
    if (bytes === 0) {
      done();
      return;
    }
    const { ip } = request;
    const ofAddress = byAddress.get(ip) ?? 0;
    if (ofAddress + bytes > MOST_HELD.address) {
      done(new AppError('request.too_many', { detail: 'Too much is being sent at once.', retryAfterS: COME_BACK_S }));
      return;
    }
    if (all + bytes > MOST_HELD.all) {
      done(new AppError('service.unavailable', { detail: 'Too much is being sent.', retryAfterS: COME_BACK_S }));
      return;
    }
    byAddress.set(ip, ofAddress + bytes);
    all += bytes;
    reply.raw.once('close', () => {
      all -= bytes;
      const left = (byAddress.get(ip) ?? 0) - bytes;
      if (left > 0) byAddress.set(ip, left);
      else byAddress.delete(ip);
    });
    done();
  });
}
