import { promisify } from 'node:util';
import { gunzip } from 'node:zlib';
import { Injectable, type OnModuleInit } from '@nestjs/common';
import { HttpAdapterHost } from '@nestjs/core';
import { deliveryReceiptSchema, idSchema } from '@repo/contracts';
import type { FastifyInstance, FastifyRequest } from 'fastify';
import { AppError, notFound } from '../../platform/errors/app-error.js';
import { sendProblem } from '../../platform/errors/problem.filter.js';
import { IntakeService } from './intake.service.js';

const BODY_LIMIT = 4 * 1024 * 1024;
const TYPES = ['application/json', 'application/cloudevents+json'];

const unpack = promisify(gunzip);

/** The body as text was packed into it. Bounded: what would unpack to more than may be sent plain is refused unread. */
async function unpacked(request: FastifyRequest, sent: Buffer): Promise<Buffer> {
  const coding = (request.headers['content-encoding'] ?? 'identity').trim().toLowerCase();
  if (coding === 'identity' || coding === '') return sent;
  if (coding !== 'gzip' && coding !== 'x-gzip') {
    throw new AppError('request.media_type', {
      detail: `Content-Encoding is gzip or nothing, not ${coding.slice(0, 40)}.`,
    });
  }
  try {
    return await unpack(sent, { maxOutputLength: BODY_LIMIT });
  } catch (error) {
    const code = codeOf(error);
    if (code === 'ERR_BUFFER_TOO_LARGE') throw tooLarge();
    if (!code.startsWith('Z_')) throw error;
    throw new AppError('request.malformed', { detail: 'The body is not gzip, though Content-Encoding says so.' });
  }
}

const tooLarge = (): AppError =>
  new AppError('request.too_large', {
    detail: `A delivery has at most ${BODY_LIMIT / 1024 / 1024} MiB, unpacked. Send fewer intervals at a time.`,
  });

const codeOf = (error: unknown): string =>
  typeof error === 'object' && error !== null && 'code' in error ? String(error.code) : '';

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
      sendProblem(codeOf(error) === 'FST_ERR_CTP_BODY_TOO_LARGE' ? tooLarge() : error, request, reply);
    });
    scope.post<{ Params: { id: string } }>(
      '/api/v1/sources/:id/alarm-counts',
      { bodyLimit: BODY_LIMIT, config: { rateLimit: false } },
      async (request, reply) => {
        const id = idSchema.safeParse(request.params.id);
        if (!id.success) throw notFound();
        const sent = Buffer.isBuffer(request.body) ? request.body : Buffer.alloc(0);
        const { receipt, waitedMs } = await this.intake.receive({
          sourceId: id.data.toLowerCase(),
          address: request.ip,
          headers: request.headers,
          contentType: contentTypeOf(request),
          sent,
          body: await unpacked(request, sent),
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
