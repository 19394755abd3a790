'use client';

import { routes, type Machine, type Site } from '@repo/contracts';
import { useMemo, useState } from 'react';
import { useApiPages } from '@/lib/api/hooks';
import type { Choice } from '@/ui/field';

const MOST_AT_ONCE = 50;
const READ_FIRST = 200;

interface SiteChoices {
  choices: readonly Choice[];
  /** brings what fits a text */
  setSearch: (text: string) => void;
}

/**
 * Sites that a machine may stand at, those of its customer first, with what fits the text that is typed; the one where it stands is always
 * among them.
 * @param isAnywhere at those of other customers as well
 */
export function useSiteChoices(machine: Machine, isAnywhere: boolean): SiteChoices {
  const [typed, setTyped] = useState('');
  const { customerId, customerName, siteId, siteName, place } = machine;
  const near = useApiPages(routes.sites.list, { query: { customerId, limit: READ_FIRST } });
  const all = useApiPages(routes.sites.list, { query: { limit: READ_FIRST } }, { isEnabled: isAnywhere });
  const search = typed.trim();
  const matching = useApiPages(
    routes.sites.list,
    { query: { ...(isAnywhere ? {} : { customerId }), limit: MOST_AT_ONCE, search } },
    { isEnabled: search.length > 1 && (isAnywhere ? all : near).query.hasNextPage },
  );
  const choices = useMemo(() => {
    const toLabel = (site: Pick<Site, 'customerName' | 'name' | 'place'>): string =>
      `${isAnywhere ? `${site.customerName}: ` : ''}${site.name}, ${site.place}`;
    const here = { value: siteId, label: toLabel({ customerName, name: siteName, place }) };
    const others = [...near.items, ...all.items, ...matching.items].map((site) => ({
      value: site.id,
      label: toLabel(site),
    }));
    return [...new Map([here, ...others].map((choice) => [choice.value, choice])).values()];
  }, [near.items, all.items, matching.items, isAnywhere, siteId, customerName, siteName, place]);
  return { choices, setSearch: setTyped };
}
