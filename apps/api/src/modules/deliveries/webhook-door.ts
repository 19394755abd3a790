import { Injectable, type OnModuleInit } from '@nestjs/common';
import { HttpAdapterHost } from '@nestjs/core';
import { deliveryReceiptSchema, idSchema } from '@repo/contracts';
import type { FastifyInstance, FastifyRequest } from 'fastify';
import { AppError, notFound } from '../../platform/errors/app-error.js';
import { sendProblem } from '../../platform/errors/problem.filter.js';
import { IntakeService } from './intake.service.js';

const BODY_LIMIT = 4 * 1024 * 1024;
const TYPES = ['application/json', 'application/cloudevents+json'];

/** Media type in lower case; refuses another character set than UTF-8. */
function contentTypeOf(request: FastifyRequest): string {
  const [type = '', ...parameters] = (request.headers['content-type'] ?? '').toLowerCase().split(';');
  for (const parameter of parameters) {
    const [name, value = ''] = parameter.trim().split('=', 2);
    if (name === 'charset' && value.replaceAll('"', '') !== 'utf-8') {
      throw new AppError('request.media_type', { detail: 'JSON is UTF-8.' });
    }
  }
  return type.trim();
}

/**
 * The one address that takes bytes as they came: they are what is signed. It stands beside the other routes, in a scope of its own
 * with its own readers of bodies, and neither session nor the limit of sessions applies to it.
 */
@Injectable()
export class WebhookDoor implements OnModuleInit {
  constructor(
    private readonly host: HttpAdapterHost,
    private readonly intake: IntakeService,
  ) {}

  onModuleInit(): void {
    // Without a server (loading data, tasks) there is no door to open.
    if (this.host.httpAdapter?.getType() !== 'fastify') return;
    const fastify = this.host.httpAdapter.getInstance<FastifyInstance>();
    void fastify.register((scope, _options, done) => {
      this.open(scope);
      done();
    });
  }

  private open(scope: FastifyInstance): void {
    scope.removeAllContentTypeParsers();
    scope.addContentTypeParser(TYPES, { parseAs: 'buffer', bodyLimit: BODY_LIMIT }, (_request, body, done) => {
      done(null, body);
    });
    scope.setErrorHandler((error, request, reply) => {
      sendProblem(error, request, reply);
    });
    scope.post<{ Params: { id: string } }>(
      '/api/v1/sources/:id/alarm-counts',
      { bodyLimit: BODY_LIMIT, config: { rateLimit: false } },
      async (request, reply) => {
        const id = idSchema.safeParse(request.params.id);
        if (!id.success) throw notFound();
        const { receipt, waitedMs } = await this.intake.receive({
          sourceId: id.data.toLowerCase(),
          address: request.ip,
          headers: request.headers,
          contentType: contentTypeOf(request),
          body: Buffer.isBuffer(request.body) ? request.body : Buffer.alloc(0),
        });
        return reply
          .code(200)
          .header('cache-control', 'no-store')
          .header('server-timing', `wait;dur=${waitedMs.toFixed(2)}`)
          .send(deliveryReceiptSchema.parse(receipt));
      },
    );
  }
}
