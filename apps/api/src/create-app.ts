import type { Writable } from 'node:stream';
import cookie from '@fastify/cookie';
import { NestFactory } from '@nestjs/core';
import { FastifyAdapter, type NestFastifyApplication } from '@nestjs/platform-fastify';
import type { FastifyInstance, FastifyRequest } from 'fastify';
import { uuidv7 } from 'uuidv7';
import { AppModule } from './app.module.js';
import type { Env } from './config/env.js';
import { Db } from './platform/db/index.js';
import { answerHealth } from './platform/health/health.js';
import { compressAnswers } from './platform/http/compression.js';
import { endConnectionsOnClosing } from './platform/http/closing.js';
import { takeUploads } from './platform/http/files.js';
import {
  answerBrokenAddresses,
  answerBrokenRequests,
  hardenHeaders,
  openFrontDoor,
} from './platform/http/front-door.js';
import { takeJsonOnly, takeLittleOfStrangers } from './platform/http/json-body.js';
import { boundHeldBodies } from './platform/http/held-bodies.js';
import { RateLimits } from './platform/http/rate-limits.js';
import { checkTargets } from './platform/http/request-targets.js';

const BODY_LIMIT = 1_048_576;
/** A missing host is refused with a problem like anything else; senders that stall are looked for every few seconds. */
const SERVER = { requireHostHeader: false, connectionsCheckingInterval: 5_000 } as const;

/** What is logged of a request: of its query the names alone, since values may be anybody's. */
function toLogged(request: FastifyRequest) {
  const [path = '', query] = request.url.split('?', 2);
  const names = query === undefined ? '' : `?${[...new Set(new URLSearchParams(query).keys())].join('&')}`;
  return { method: request.method, url: (path + names).slice(0, 1000), remoteAddress: request.ip };
}

/** Builds the application, ready to listen or to be called by a test. `logTo` takes its log instead of the process's own output. */
export async function createApp(env: Env, { logTo }: { logTo?: Writable } = {}): Promise<NestFastifyApplication> {
  const tls =
    env.TLS_CERT !== undefined && env.TLS_KEY !== undefined
      ? { https: { ...SERVER, cert: env.TLS_CERT, key: env.TLS_KEY } }
      : { http: SERVER };
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
    clientErrorHandler: answerBrokenRequests(env),
    frameworkErrors: answerBrokenAddresses(env),
    logger: {
      level: env.LOG_LEVEL,
      ...(logTo === undefined ? {} : { stream: logTo }),
      serializers: { req: toLogged },
      redact: ['req.headers.cookie', 'req.headers.authorization', 'res.headers["set-cookie"]'],
    },
  });
  const app = await NestFactory.create<NestFastifyApplication>(AppModule.with(env), adapter, {
    logger: env.LOG_LEVEL === 'silent' ? false : ['error', 'warn'],
    abortOnError: false,
    // Its readers of bodies take forms and text as well.
    bodyParser: false,
  });
  const fastify = app.getHttpAdapter().getInstance() as unknown as FastifyInstance;
  hardenHeaders(fastify, env);
  endConnectionsOnClosing(fastify);
  compressAnswers(fastify);
  checkTargets(fastify);
  takeJsonOnly(fastify);
  takeLittleOfStrangers(fastify);
  takeUploads(fastify);
  await fastify.register(cookie);
  await app.get(RateLimits).install(fastify, env);
  boundHeldBodies(fastify);
  answerHealth(fastify, app.get(Db));
  await openFrontDoor(fastify, env);
  app.enableShutdownHooks();
  return app;
}
