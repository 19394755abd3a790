'use client';

import { routes, type ComponentType } from '@repo/contracts';
import { useMemo, useState } from 'react';
import { useApiPages } from '@/lib/api/hooks';

/** Component types that fit what is typed, beside those that come first anyhow. */
export function useComponentTypes(): { types: ReadonlyMap<string, ComponentType>; setSearch: (text: string) => void } {
  const [search, setSearch] = useState('');
  const all = useApiPages(routes.componentTypes.list, { query: { limit: 200 } });
  const matching = useApiPages(
    routes.componentTypes.list,
    { query: { limit: 50, search } },
    { isEnabled: search.trim().length > 1 && all.query.hasNextPage },
  );
  const types = useMemo(
    () => new Map([...all.items, ...matching.items].map((type) => [type.id, type])),
    [all.items, matching.items],
  );
  return { types, setSearch };
}
