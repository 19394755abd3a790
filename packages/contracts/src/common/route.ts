import type { z } from 'zod';
import type { ProblemCode } from './problem-codes.js';

export const STAFF_ROLES = ['engineer', 'installer', 'lead', 'administrator'] as const;
export const CUSTOMER_ROLES = ['viewer', 'customer-administrator'] as const;
export const ROLES = [...STAFF_ROLES, ...CUSTOMER_ROLES] as const;
export type Role = (typeof ROLES)[number];

export const STAFF: readonly Role[] = STAFF_ROLES;
export const EVERYONE: readonly Role[] = ROLES;
export const OFFICE: readonly Role[] = ['engineer', 'lead', 'administrator'];

export interface Route {
  /** unique; becomes the operationId */
  readonly id: string;
  readonly method: 'GET' | 'POST' | 'PATCH' | 'DELETE';
  /** below /api/v1, parameters as `{id}` */
  readonly path: string;
  readonly area: string;
  readonly summary: string;
  /** who may call it; `public` needs no session, `person` needs a session but no organisation's data */
  readonly access: readonly Role[] | 'public' | 'person';
  readonly params?: z.ZodObject;
  readonly query?: z.ZodType;
  readonly body?: z.ZodType;
  readonly response?: z.ZodType;
  readonly status: number;
  /** the answer carries an ETag made of the record's `version` */
  readonly etag?: true;
  /** the request must carry If-Match */
  readonly ifMatch?: true;
  /** the request must carry Idempotency-Key */
  readonly idempotent?: true;
  /** the body is the bytes of a file, `application/octet-stream` */
  readonly upload?: true;
  /** the answer is a job; Location names it */
  readonly job?: true;
  /** the answer is a file: the handler gives `{ bytes, mediaType, fileName }` */
  readonly download?: true;
  /** roles, secrets and credentials: asks again when the last proof of who it is, is some minutes old */
  readonly recentProof?: true;
  /** changes the account itself: a session that the organisation's own sign-in opened may not */
  readonly ownCredential?: true;
  /** the session's own affairs: allowed before a demanded second factor is set up */
  readonly beforeSecondFactor?: true;
  readonly errors?: readonly ProblemCode[];
}

export type InputOf<R extends Route> = {
  params: R['params'] extends z.ZodType ? z.output<R['params']> : undefined;
  query: R['query'] extends z.ZodType ? z.output<R['query']> : undefined;
  body: R['body'] extends z.ZodType ? z.output<R['body']> : undefined;
};
export type BodyOf<R extends Route> = R['body'] extends z.ZodType ? z.input<R['body']> : undefined;
export type QueryOf<R extends Route> = R['query'] extends z.ZodType ? z.input<R['query']> : undefined;
export type ResponseOf<R extends Route> = R['response'] extends z.ZodType ? z.output<R['response']> : undefined;

/** Keeps the literal types of a table of routes. */
export const defineRoutes = <const T extends Record<string, Route>>(routes: T): T => routes;
