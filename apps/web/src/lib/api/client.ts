import type { BodyOf, QueryOf, ResponseOf, Route } from '@repo/contracts';
import { ApiError, toApiError } from './problem';
import { proofGate, signInGate, type RequestGate } from './gates';
import { toUrl } from './to-url';

type ParamsOf<R extends Route> = R extends { params: object } ? Readonly<Record<string, string>> : undefined;
type Field<Name extends string, T> = [T] extends [undefined]
  ? { readonly [K in Name]?: undefined }
  : undefined extends T
    ? { readonly [K in Name]?: T }
    : { readonly [K in Name]: T };

/** What a route has to be told; fields that it does not take cannot be given. */
export type CallArguments<R extends Route> = Field<'params', ParamsOf<R>> &
  Partial<Field<'query', QueryOf<R>>> &
  Field<'body', BodyOf<R>> & {
    readonly etag?: string | undefined;
    readonly idempotencyKey?: string | undefined;
    readonly signal?: AbortSignal | undefined;
  };

export interface Answer<T> {
  data: T;
  /** strong entity tag, to be sent back as If-Match */
  etag: string | null;
}

async function send(route: Route, url: string, init: RequestInit): Promise<Response> {
  try {
    return await fetch(url, init);
  } catch (error) {
    if (error instanceof DOMException && error.name === 'AbortError') throw error;
    throw new ApiError({ code: navigator.onLine ? 'client.unreachable' : 'client.offline', status: 0 });
  }
}

/** Refusals after which a person can do something that lets the request go on. */
const GATES: Readonly<Record<string, RequestGate>> = {
  'session.needed': signInGate,
  'session.proof_needed': proofGate,
};

/** Sends a request; one whose session has ended, or that wants to be sure who it is, asks and goes on where it was. */
async function ask(route: Route, url: string, init: RequestInit): Promise<Response> {
  for (;;) {
    const response = await send(route, url, init);
    if (response.ok) return response;
    const error = await toApiError(response);
    const gate = route.access === 'public' ? undefined : GATES[error.code];
    if (gate === undefined || !(await gate.wait())) throw error;
  }
}

/**
 * Calls one route of the contract. An ended session asks for the password over the page and then goes on where it was:
 * the same request with the same Idempotency-Key, so that nothing typed is lost and nothing is created twice.
 */
export async function callApi<const R extends Route>(route: R, call: CallArguments<R>): Promise<Answer<ResponseOf<R>>> {
  const headers = new Headers({ accept: 'application/json, application/problem+json' });
  if (call.body !== undefined) headers.set('content-type', 'application/json');
  if (route.ifMatch === true && call.etag !== undefined) headers.set('if-match', call.etag);
  if (route.idempotent === true) headers.set('idempotency-key', `"${call.idempotencyKey ?? crypto.randomUUID()}"`);
  const init: RequestInit = {
    method: route.method,
    headers,
    credentials: 'same-origin',
    ...(call.body === undefined ? {} : { body: JSON.stringify(call.body) }),
    ...(call.signal === undefined ? {} : { signal: call.signal }),
  };
  const url = toUrl(route.path, call.params ?? {}, call.query);
  const response = await ask(route, url, init);
  const text = await response.text();
  // The server has parsed its answer with this very schema before sending it; parsing it here again would only cost time.
  const data: ResponseOf<R> = text === '' ? undefined : JSON.parse(text);
  return { data, etag: response.headers.get('etag') };
}

/** Sends the bytes of a file. */
export async function callUpload<const R extends Route>(
  route: R,
  params: Readonly<Record<string, string>>,
  file: Blob,
): Promise<ResponseOf<R>> {
  const headers = { accept: 'application/json, application/problem+json', 'content-type': 'application/octet-stream' };
  const init: RequestInit = { method: route.method, headers, credentials: 'same-origin', body: file };
  const response = await ask(route, toUrl(route.path, params, undefined), init);
  return response.json() as Promise<ResponseOf<R>>;
}

/** The file that a download gives, and the name that it is given. */
export async function callFile<const R extends Route>(
  route: R,
  call: Pick<CallArguments<R>, 'params'> & Partial<Field<'query', QueryOf<R>>>,
): Promise<{ file: Blob; fileName: string }> {
  const url = toUrl(route.path, call.params ?? {}, call.query);
  const response = await ask(route, url, { method: route.method, credentials: 'same-origin' });
  const named = /filename\*=UTF-8''([^;]+)/.exec(response.headers.get('content-disposition') ?? '')?.[1];
  return { file: await response.blob(), fileName: named === undefined ? 'export' : decodeURIComponent(named) };
}

/** The address of a file that the browser fetches by itself, so that it goes to the disk and not through memory. */
export const toFileUrl = (route: Route, params: Readonly<Record<string, string>>): string =>
  toUrl(route.path, params, undefined);
