import { Injectable, type CallHandler, type ExecutionContext, type NestInterceptor } from '@nestjs/common';
import { Reflector } from '@nestjs/core';
import type { Route } from '@repo/contracts';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { from, lastValueFrom, type Observable } from 'rxjs';
import type { WithActor } from '../auth/access.guard.js';
import { Askers } from '../compute/index.js';
import { Db } from '../db/db.js';
import { askerOf } from './asker-of.js';
import { etagOf } from './etag.js';
import { once, readIdempotencyKey, type StoredResponse } from './idempotency.js';
import { readUpload, sendFile, type DownloadedFile } from './files.js';
import { parseInput } from './parse-input.js';
import { ReadyJson } from './ready-json.js';
import { ROUTE, type WithInput } from './route.decorator.js';

const JSON_TYPE = 'application/json; charset=utf-8';

/** What is sent: as a text, and, where it was made just now, what that says. */
interface Answer extends StoredResponse {
  readonly named?: unknown;
}

/** Parses a request, runs it in one transaction of its actor, and lets out only what the contract names. */
@Injectable()
export class RouteInterceptor implements NestInterceptor {
  constructor(
    private readonly reflector: Reflector,
    private readonly db: Db,
    private readonly askers: Askers,
  ) {}

  intercept(context: ExecutionContext, next: CallHandler): Observable<unknown> {
    const route = this.reflector.get<Route | undefined>(ROUTE, context.getHandler());
    if (route === undefined) return next.handle();
    const http = context.switchToHttp();
    const asker = askerOf(http.getRequest(), http.getResponse());
    return from(this.askers.run(asker, () => this.run(route, context, next)));
  }

  private async run(route: Route, context: ExecutionContext, next: CallHandler): Promise<unknown> {
    const http = context.switchToHttp();
    const request = http.getRequest<FastifyRequest & WithActor & WithInput>();
    const reply = http.getResponse<FastifyReply>();
    const input = parseInput(route, request);
    if (route.upload === true) input.body = await readUpload(request);
    request.routeInput = input;
    const work = async (): Promise<Answer> =>
      this.out(route, await lastValueFrom(next.handle(), { defaultValue: undefined }));
    // What is carried away is written into the audit trail; all else that is read changes nothing.
    const options = { readOnly: route.method === 'GET' && route.download !== true };
    if (route.download === true && request.actor !== undefined) {
      const file = await this.db.request(request.actor, request.id, () => lastValueFrom(next.handle()), options);
      return sendFile(reply, file as DownloadedFile);
    }
    const inTransaction = Array.isArray(route.access);
    let response: Answer;
    if (!inTransaction || request.actor === undefined) {
      const value: unknown = await lastValueFrom(next.handle(), { defaultValue: undefined });
      if (value instanceof ReadyJson) return this.sendReady(route, reply, value);
      response = this.out(route, value);
    } else if (route.idempotent === true) {
      const key = readIdempotencyKey(request.headers['idempotency-key']);
      const done = await this.db.request(request.actor, request.id, () =>
        once(this.db.current, route.id, key, { params: input.params, body: request.body }, work),
      );
      if (done.replayed) reply.header('idempotency-replayed', 'true');
      response = done.response;
    } else {
      response = await this.db.request(request.actor, request.id, work, options);
    }
    return this.send(route, request, reply, response);
  }

  /** An unknown field never leaves: the contract's schema drops it, and a missing one is a fault of ours. */
  private out(route: Route, value: unknown): Answer {
    if (route.response === undefined) return { status: route.status, body: '' };
    const named = route.response.parse(value);
    return { status: route.status, body: JSON.stringify(named), named };
  }

  private sendReady(route: Route, reply: FastifyReply, json: ReadyJson): unknown {
    reply
      .code(route.status)
      .headers({ 'cache-control': 'no-store', 'content-length': String(json.length) })
      .type(JSON_TYPE);
    return json.toPayload();
  }

  private send(route: Route, request: FastifyRequest, reply: FastifyReply, { status, body, named }: Answer): unknown {
    reply.code(status).header('cache-control', 'no-store');
    if (body === '') return undefined;
    // What was stored with its key is a text alone.
    const value = (named ?? JSON.parse(body)) as { id?: string; version?: number; nextCursor?: string | null };
    if (route.job === true && typeof value.id === 'string') reply.header('location', `/api/v1/jobs/${value.id}`);
    if (route.etag === true && typeof value.version === 'number') {
      const etag = etagOf(value.version);
      reply.header('etag', etag);
      if (route.method === 'GET' && request.headers['if-none-match'] === etag) {
        reply.code(304);
        return undefined;
      }
    }
    if (typeof value.nextCursor === 'string') {
      const url = new URL(request.url, 'http://here');
      url.searchParams.set('cursor', value.nextCursor);
      reply.header('link', `<${url.pathname}${url.search}>; rel="next"`);
    }
    // Written once: as a text it is sent as it stands.
    reply.type(JSON_TYPE);
    return body;
  }
}
