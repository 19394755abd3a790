'use client';

import {
  keepPreviousData,
  useInfiniteQuery,
  useMutation,
  useQuery,
  useQueryClient,
  type UseQueryResult,
} from '@tanstack/react-query';
import type { ResponseOf, Route } from '@repo/contracts';
import { useCallback, useMemo, useRef } from 'react';
import { callApi, type Answer, type CallArguments } from './client';
import { isAnsweredForGood } from './problem';
import { toPagesKey, toQueryKey } from './query-keys';
import { isTouched } from './touched';

type ReadArguments<R extends Route> = Omit<CallArguments<R>, 'signal' | 'etag' | 'idempotencyKey'>;

export interface ReadOptions {
  isEnabled?: boolean;
  /** keeps what is on screen while other parameters are fetched */
  isSticky?: boolean;
}
interface PollOptions<T> {
  /** how soon to look again, judged by what was found last [ms] */
  againMs?: (answer: T) => number | false;
}

/** The parts of a page ask together, and a phone takes long over each request: one goes out at a time, between which the page answers. */
const untilTurn = (): Promise<void> => new Promise((go) => setTimeout(go));

/** Reads a route. The key is the route and its arguments, so that parts of a page that ask the same share one request. */
export function useApi<const R extends Route>(
  route: R,
  call: ReadArguments<R>,
  options: ReadOptions & PollOptions<ResponseOf<R>> = {},
): UseQueryResult<Answer<ResponseOf<R>>> {
  const { againMs } = options;
  return useQuery({
    queryKey: toQueryKey(route, call),
    queryFn: async ({ signal }) => {
      await untilTurn();
      return callApi(route, { ...call, signal } as CallArguments<R>);
    },
    enabled: options.isEnabled ?? true,
    ...(options.isSticky === true ? { placeholderData: keepPreviousData } : {}),
    refetchInterval: ({ state }) => (state.data === undefined ? false : (againMs?.(state.data.data) ?? false)),
  });
}

interface Page<T> {
  items: T[];
  nextCursor: string | null;
  /** how many of them are left out, since what is stored of them cannot be read */
  unreadable?: number;
}
type ItemOf<R extends Route> = ResponseOf<R> extends Page<infer T> ? T : never;

/** Reads a paged route, page after page; `items` holds all that were read. */
export function useApiPages<const R extends Route>(route: R, call: ReadArguments<R>, options: ReadOptions = {}) {
  const query = useInfiniteQuery({
    queryKey: toPagesKey(route, call),
    queryFn: async ({ signal, pageParam }): Promise<Page<ItemOf<R>>> => {
      const paged = {
        ...call,
        query: { ...(call.query as object | undefined), cursor: pageParam ?? undefined },
        signal,
      };
      await untilTurn();
      const answer = await callApi(route, paged as unknown as CallArguments<R>);
      return answer.data as Page<ItemOf<R>>;
    },
    initialPageParam: null as string | null,
    getNextPageParam: (last) => last.nextCursor,
    enabled: options.isEnabled ?? true,
    placeholderData: keepPreviousData,
  });
  const pages = query.data?.pages;
  const items = useMemo(() => pages?.flatMap((page) => page.items) ?? [], [pages]);
  return { query, items };
}

/** Has read again what a change by this route touches; what is not on screen is read when it is needed. */
export function useTouch(): (route: Route) => Promise<void> {
  const client = useQueryClient();
  return useCallback(
    (route) => client.invalidateQueries({ predicate: ({ queryKey }) => isTouched(route, queryKey[0]) }),
    [client],
  );
}

/**
 * Changes something. A repeated attempt after a failure that may have arrived (no answer, 5xx) carries the same
 * Idempotency-Key; a new one is taken as soon as the server has answered for good. A form that is kept brings that of its attempt.
 */
export function useApiChange<const R extends Route>(
  route: R,
  options: { onDone?: (answer: Answer<ResponseOf<R>>) => void | Promise<void> } = {},
) {
  const touch = useTouch();
  const key = useRef<string | null>(null);
  return useMutation({
    mutationFn: (call: Omit<CallArguments<R>, 'signal'>) => {
      key.current ??= crypto.randomUUID();
      return callApi(route, { idempotencyKey: key.current, ...call } as CallArguments<R>);
    },
    onSuccess: async (answer) => {
      key.current = null;
      await options.onDone?.(answer);
      await touch(route);
    },
    onError: (error) => {
      if (isAnsweredForGood(error)) key.current = null;
    },
  });
}
