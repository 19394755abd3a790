'use client';

import { routes } from '@repo/contracts';
import { useApi } from '@/lib/api/hooks';
import { useUrlState } from '@/lib/url-state';
import { toEndOfDay } from '@/lib/zoned-day';

/**
 * The machine page's one source: its overview on the day and basis that the address names, and the circuit that is looked at.
 * Panels that ask for the same share one request.
 */
export function useMachineOverview(machineId: string) {
  const url = useUrlState();
  const day = url.get('on');
  const basis: 'as-left' | 'target' = url.get('basis') === 'target' ? 'target' : 'as-left';
  const machine = useApi(routes.machines.get, { params: { id: machineId } }, { isEnabled: day !== null });
  const timeZone = machine.data?.data.timeZone;
  const asOn = day !== null && timeZone !== undefined ? toEndOfDay(day, timeZone) : undefined;
  const query = useApi(
    routes.machines.overview,
    { params: { id: machineId }, query: { basis, ...(asOn === undefined ? {} : { asOn }) } },
    { isEnabled: day === null || asOn !== undefined, isSticky: true },
  );
  const circuits = query.data?.data.circuits ?? [];
  const asked = url.get('circuit');
  // Who says nothing looks at the worst.
  const order = ['fails', 'unproven', 'marginal', 'holds', 'not-applicable'];
  const worst = [...circuits].sort((a, b) => order.indexOf(a.ladder.status) - order.indexOf(b.ladder.status))[0];
  const circuit = circuits.find((candidate) => candidate.circuit.id === asked) ?? worst ?? null;
  return { query, day, basis, asOn, circuit, url };
}
