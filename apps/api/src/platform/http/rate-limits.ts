import rateLimit from '@fastify/rate-limit';
import { Injectable } from '@nestjs/common';
import type { FastifyInstance, FastifyRequest } from 'fastify';
import type { Env } from '../../config/env.js';
import type { WithActor } from '../auth/access.guard.js';
import { AppError } from '../errors/app-error.js';

const WINDOW = '1 minute';
/** An address may stand for a whole firm: it gets so many times what one person gets. */
const PEOPLE_AN_ADDRESS = 20;

type Limiter = (request: FastifyRequest) => Promise<{ isAllowed: boolean } | { isExceeded: boolean; ttl: number }>;

const tooMany = (ttlMs: number): AppError =>
  new AppError('request.too_many', { retryAfterS: Math.max(1, Math.ceil(ttlMs / 1000)) });

/**
 * How much one caller may ask for. Every address has a limit before anything is looked up; then whoever was found to ask has one, by
 * what was verified: the account or the key. What a cookie merely says counts nowhere, or a new one would be a new allowance.
 */
@Injectable()
export class RateLimits {
  private limiter: Limiter | null = null;

  async install(app: FastifyInstance, env: Env): Promise<void> {
    await app.register(rateLimit, {
      max: env.RATE_LIMIT * PEOPLE_AN_ADDRESS,
      timeWindow: WINDOW,
      allowList: (request) => !request.url.startsWith('/api/'),
      keyGenerator: (request) => request.ip,
      errorResponseBuilder: (_request, { ttl }) => tooMany(ttl),
    });
    this.limiter = app.createRateLimit({
      max: env.RATE_LIMIT,
      timeWindow: WINDOW,
      keyGenerator: (request) => {
        const { actor } = request as FastifyRequest & WithActor;
        return actor === undefined ? `address ${request.ip}` : `account ${actor.userId}`;
      },
    }) as Limiter;
  }

  /** Counts a request of whoever it was found to be of. @throws AppError request.too_many */
  async count(request: FastifyRequest): Promise<void> {
    const limited = await this.limiter?.(request);
    if (limited !== undefined && 'isExceeded' in limited && limited.isExceeded) throw tooMany(limited.ttl);
  }
}
