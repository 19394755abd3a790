'use client';

import { routes, type InstalledComponent } from '@repo/contracts';
import { useState } from 'react';
import { useApi, useApiPages } from '@/lib/api/hooks';

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
