import type { Route } from '@repo/contracts';
import type { CallArguments } from './client';
import { toPagesKey, toQueryKey } from './query-keys';
import { toUrl } from './to-url';

/** What a page reads first: by the very arguments that it asks with, or it asks once more. */
export interface FirstRead {
  url: string;
  key: readonly unknown[];
  isPaged: boolean;
}
type ReadArguments<R extends Route> = Pick<CallArguments<R>, 'params' | 'query'>;

const toRead = (route: Route, call: { params?: object | undefined; query?: unknown }, isPaged: boolean): FirstRead => ({
  url: toUrl(route.path, { ...call.params }, call.query),
  key: isPaged ? toPagesKey(route, call) : toQueryKey(route, call),
  isPaged,
});

/** For what `useApi` reads. */
export const firstOf = <const R extends Route>(route: R, call: ReadArguments<R>): FirstRead =>
  toRead(route, call, false);

/** For what `useApiPages` reads. */
export const firstPageOf = <const R extends Route>(route: R, call: ReadArguments<R>): FirstRead =>
  toRead(route, call, true);
