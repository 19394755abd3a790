import cookie from '@fastify/cookie';
import rateLimit from '@fastify/rate-limit';
import { NestFactory } from '@nestjs/core';
import { FastifyAdapter, type NestFastifyApplication } from '@nestjs/platform-fastify';
import type { FastifyInstance } from 'fastify';
import { uuidv7 } from 'uuidv7';
import { AppModule } from './app.module.js';
import type { Env } from './config/env.js';
import { SESSION_COOKIE } from './platform/auth/cookies.js';
import { sha256 } from './platform/auth/sessions.js';
import { Db } from './platform/db/index.js';
import { AppError } from './platform/errors/app-error.js';
import { answerHealth } from './platform/health/health.js';
import { takeUploads } from './platform/http/files.js';
import { hardenHeaders, openFrontDoor } from './platform/http/front-door.js';

const BODY_LIMIT = 1_048_576;

/** Builds the application, ready to listen or to be called by a test. */
export async function createApp(env: Env): Promise<NestFastifyApplication> {
  const tls =
    env.TLS_CERT !== undefined && env.TLS_KEY !== undefined ? { https: { cert: env.TLS_CERT, key: env.TLS_KEY } } : {};
  const adapter = new FastifyAdapter({
    ...tls,
    trustProxy: env.TRUST_PROXY ?? false,
    bodyLimit: BODY_LIMIT,
    requestTimeout: 60_000,
    connectionTimeout: 75_000,
    routerOptions: { maxParamLength: 200 },
    genReqId: () => uuidv7(),
    onProtoPoisoning: 'error',
    onConstructorPoisoning: 'error',
    logger: {
      level: env.LOG_LEVEL,
      redact: ['req.headers.cookie', 'req.headers.authorization', 'res.headers["set-cookie"]'],
    },
  });
  const app = await NestFactory.create<NestFastifyApplication>(AppModule.with(env), adapter, {
    logger: env.LOG_LEVEL === 'silent' ? false : ['error', 'warn'],
    abortOnError: false,
  });
  const fastify = app.getHttpAdapter().getInstance() as unknown as FastifyInstance;
  hardenHeaders(fastify, env);
  // RFC 7396: PATCH bodies are merge patches; plain JSON is taken as well.
  fastify.addContentTypeParser(
    'application/merge-patch+json',
    { parseAs: 'string' },
    fastify.getDefaultJsonParser('error', 'error'),
  );
  takeUploads(fastify);
  await fastify.register(cookie);
  await fastify.register(rateLimit, {
    max: env.RATE_LIMIT,
    timeWindow: '1 minute',
    allowList: (request) => !request.url.startsWith('/api/'),
    keyGenerator: (request) => {
      const token = request.cookies[SESSION_COOKIE];
      return token === undefined ? request.ip : sha256(token).toString('base64url');
    },
    errorResponseBuilder: (_request, { ttl }) =>
      new AppError('request.too_many', { retryAfterS: Math.max(1, Math.ceil(ttl / 1000)) }),
  });
  answerHealth(fastify, app.get(Db));
  await openFrontDoor(fastify, env);
  app.enableShutdownHooks();
  return app;
}
