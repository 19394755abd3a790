'use client';

import type { ResponseOf, Route } from '@repo/contracts';
import { useMemo, useState } from 'react';
import { useApiPages } from '@/lib/api/hooks';
import type { Choice } from '@/ui/field';

const MOST_AT_ONCE = 50;
const READ_FIRST = 200;

/** A list that takes `search`. */
type SearchedRoute = Route & { query: { shape: { search: unknown } } };
type ItemOf<R extends Route> = ResponseOf<R> extends { items: (infer T)[] } ? T : never;
type Query = Readonly<Record<string, string>>;

/** Records that come first in a list, and where there are more of them those that the server finds by what is typed. */
export function useSearchedList<const R extends SearchedRoute>(
  route: R,
  query: Query = {},
  options: { isEnabled?: boolean } = {},
): { items: readonly ItemOf<R>[]; isLong: boolean; setSearch: (text: string) => void } {
  type Call = Parameters<typeof useApiPages<R>>[1];
  const [typed, setSearch] = useState('');
  const search = typed.trim();
  const first = useApiPages(route, { query: { ...query, limit: READ_FIRST } } as unknown as Call, options);
  const isLong = first.query.hasNextPage;
  const matching = useApiPages(route, { query: { ...query, limit: MOST_AT_ONCE, search } } as unknown as Call, {
    isEnabled: isLong && search !== '',
  });
  const items = useMemo(
    () => [...first.items, ...matching.items] as unknown as ItemOf<R>[],
    [first.items, matching.items],
  );
  return { items, isLong, setSearch };
}

/** Each once. */
export const uniqueChoices = (choices: readonly Choice[]): readonly Choice[] => [
  ...new Map(choices.map((choice) => [choice.value, choice])).values(),
];

/** The same to choose from. `toChoice` stays the same from one rendering to the next. */
export function useSearchedChoices<const R extends SearchedRoute>(
  route: R,
  query: Query,
  toChoice: (item: ItemOf<R>) => Choice,
): { choices: readonly Choice[]; isLong: boolean; setSearch: (text: string) => void } {
  const { items, isLong, setSearch } = useSearchedList(route, query);
  const choices = useMemo(() => uniqueChoices(items.map(toChoice)), [items, toChoice]);
  return { choices, isLong, setSearch };
}
