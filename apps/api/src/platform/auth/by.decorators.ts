import { createParamDecorator, type ExecutionContext } from '@nestjs/common';
import type { FastifyRequest } from 'fastify';
import { AppError } from '../errors/app-error.js';
import type { WithActor } from './access.guard.js';
import type { SignedIn } from './actor.js';
import { DEVICE_COOKIE } from './cookies.js';

/** Who asks. */
export const By = createParamDecorator((_: unknown, context: ExecutionContext): SignedIn => {
  const { actor } = context.switchToHttp().getRequest<WithActor>();
  if (actor === undefined) throw new AppError('session.needed');
  return actor;
});

/** Where a request comes from: what guesses are counted by. */
export interface Origin {
  readonly address: string;
  readonly userAgent: string;
  /** what this browser was given when somebody signed in with it before */
  readonly deviceToken: string | null;
  /** scheme and host that the request came to, as it says itself */
  readonly site: string;
}

/** A host is whatever a request says; one that is none stands for this machine. */
const toSite = (said: string): string => (URL.canParse(said) ? new URL(said).origin : 'http://localhost');

/** Where it comes from. */
export const From = createParamDecorator((_: unknown, context: ExecutionContext): Origin => {
  const request = context.switchToHttp().getRequest<FastifyRequest>();
  return {
    address: request.ip,
    userAgent: request.headers['user-agent'] ?? '',
    deviceToken: request.cookies[DEVICE_COOKIE] ?? null,
    site: toSite(`${request.protocol}://${request.host}`),
  };
});
