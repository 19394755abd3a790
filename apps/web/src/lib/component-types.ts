'use client';

import { routes, type ComponentType } from '@repo/contracts';
import { useMemo } from 'react';
import { useSearchedList } from '@/lib/searched-list';

/** Component types that fit what is typed, beside those that come first anyhow. */
export function useComponentTypes(): { types: ReadonlyMap<string, ComponentType>; setSearch: (text: string) => void } {
  const { items, setSearch } = useSearchedList(routes.componentTypes.list);
  const types = useMemo(() => new Map(items.map((type) => [type.id, type])), [items]);
  return { types, setSearch };
}
