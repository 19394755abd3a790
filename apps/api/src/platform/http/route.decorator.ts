import {
  applyDecorators,
  createParamDecorator,
  Delete,
  Get,
  HttpCode,
  Patch,
  Post,
  SetMetadata,
  type ExecutionContext,
} from '@nestjs/common';
import type { Route } from '@repo/contracts';
import type { FastifyRequest } from 'fastify';

export const ROUTE = Symbol('route');
const VERBS = { GET: Get, POST: Post, PATCH: Patch, DELETE: Delete };

/** Binds a handler to a route of the contracts: path, verb, status, access and shapes come from there. */
export const Handles = (route: Route): MethodDecorator =>
  applyDecorators(
    VERBS[route.method](`api/v1${route.path.replaceAll(/\{(\w+)\}/g, ':$1')}`),
    HttpCode(route.status),
    SetMetadata(ROUTE, route),
  );

/** What a handler gets: the parsed request, and the version that If-Match names. */
export interface RouteInput<P = undefined, Q = undefined, B = undefined> {
  params: P;
  query: Q;
  body: B;
  /** from If-Match; only on routes that ask for it */
  version: number;
}

export interface WithInput {
  routeInput?: RouteInput<unknown, unknown, unknown>;
}

export const Input = createParamDecorator((_: unknown, context: ExecutionContext) => {
  const request = context.switchToHttp().getRequest<FastifyRequest & WithInput>();
  return request.routeInput;
});
