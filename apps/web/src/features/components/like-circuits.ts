'use client';

import { routes, type InstalledComponent } from '@repo/contracts';
import { useMemo, useState } from 'react';
import { useApi, useApiPages } from '@/lib/api/hooks';
import type { Choice } from '@/ui/field';

const MOST_AT_ONCE = 50;

/** Circuits of all machines that fit the text that is typed; without one, those that come first. */
export function useCircuitChoices(): { choices: readonly Choice[]; setSearch: (text: string) => void } {
  const [typed, setSearch] = useState('');
  const search = typed.trim();
  const first = useApiPages(routes.standings.list, { query: { status: 'all', limit: MOST_AT_ONCE } });
  const matching = useApiPages(
    routes.standings.list,
    { query: { status: 'all', limit: MOST_AT_ONCE, search } },
    { isEnabled: search.length > 1 && first.query.hasNextPage },
  );
  const choices = useMemo(() => {
    const found = [...first.items, ...matching.items].map(({ circuitId, circuitName, machineName, customerName }) => ({
      value: circuitId,
      label: `${machineName}, ${circuitName} · ${customerName}`,
    }));
    return [...new Map(found.map((choice) => [choice.value, choice])).values()];
  }, [first.items, matching.items]);
  return { choices, setSearch };
}

interface LikeComponents {
  /** null: not read yet */
  ofCircuit: readonly InstalledComponent[] | null;
  ofPowerUnit: readonly InstalledComponent[];
  powerUnitId: string;
}

/** What is fitted in a circuit today, and at the power unit that feeds it. */
export function useLikeComponents(circuitId: string): LikeComponents {
  const [asOn] = useState(() => new Date().toISOString());
  const circuit = useApi(routes.circuits.get, { params: { id: circuitId } }, { isEnabled: circuitId !== '' }).data
    ?.data;
  const { query, items } = useApiPages(
    routes.installedComponents.list,
    { query: { machineId: circuit?.machineId ?? '', asOn, limit: 200 } },
    { isEnabled: circuit !== undefined },
  );
  const powerUnitId = circuit?.powerUnitId ?? '';
  return {
    ofCircuit:
      circuit === undefined || !query.isSuccess || query.isPlaceholderData
        ? null
        : items.filter((component) => component.circuitId === circuitId),
    ofPowerUnit: items.filter((component) => component.powerUnitId === powerUnitId && powerUnitId !== ''),
    powerUnitId,
  };
}
