'use client';

import { routes, type Machine, type Site } from '@repo/contracts';
import { useMemo } from 'react';
import { useSearchedList, uniqueChoices } from '@/lib/searched-list';
import type { Choice } from '@/ui/field';

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
  const { customerId, customerName, siteId, siteName, place } = machine;
  const near = useSearchedList(routes.sites.list, { customerId });
  const all = useSearchedList(routes.sites.list, {}, { isEnabled: isAnywhere });
  const choices = useMemo(() => {
    const toLabel = (site: Pick<Site, 'customerName' | 'name' | 'place'>): string =>
      `${isAnywhere ? `${site.customerName}: ` : ''}${site.name}, ${site.place}`;
    const here = { value: siteId, label: toLabel({ customerName, name: siteName, place }) };
    const others = [...near.items, ...all.items].map((site) => ({ value: site.id, label: toLabel(site) }));
    return uniqueChoices([here, ...others]);
  }, [near.items, all.items, isAnywhere, siteId, customerName, siteName, place]);
  return { choices, setSearch: isAnywhere ? all.setSearch : near.setSearch };
}
