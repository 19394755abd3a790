'use client';

import { routes } from '@repo/contracts';
import { useMemo, useState } from 'react';
import { useApi, useApiPages } from '@/lib/api/hooks';
import type { Choice } from '@/ui/field';

const MOST_AT_ONCE = 50;
const READ_FIRST = 200;

interface Named {
  name: string;
  customerName: string;
  siteName: string;
}

/**
 * Machines to choose from: those that come first, with what fits the text that is typed. What is typed is looked up in the fleet, which
 * knows machines by their circuits: one without a circuit is found among the first alone.
 * @param chosenId one that must be among them
 */
export function useMachineChoices(
  toLabel: (machine: Named) => string,
  chosenId = '',
): { choices: readonly Choice[]; setSearch: (text: string) => void } {
  const [typed, setSearch] = useState('');
  const search = typed.trim();
  const first = useApiPages(routes.machines.list, { query: { limit: READ_FIRST } });
  const isLong = first.query.hasNextPage;
  const chosen = useApi(
    routes.machines.get,
    { params: { id: chosenId } },
    { isEnabled: isLong && chosenId !== '' && !first.items.some(({ id }) => id === chosenId) },
  ).data?.data;
  const matching = useApiPages(
    routes.standings.list,
    { query: { status: 'all', limit: MOST_AT_ONCE, search } },
    { isEnabled: isLong && search.length > 1 },
  );
  const choices = useMemo(() => {
    const found = matching.items.map(({ machineId, machineName, ...rest }) => ({
      ...rest,
      id: machineId,
      name: machineName,
    }));
    const machines = [...first.items, ...(chosen === undefined ? [] : [chosen]), ...found];
    return [...new Map(machines.map((one) => [one.id, { value: one.id, label: toLabel(one) }])).values()];
  }, [first.items, matching.items, chosen, toLabel]);
  return { choices, setSearch };
}
