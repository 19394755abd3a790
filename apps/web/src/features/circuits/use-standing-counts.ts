'use client';

import { routes } from '@repo/contracts';
import { keepPreviousData, useQuery, useQueryClient } from '@tanstack/react-query';
import { useEffect, useRef } from 'react';
import { callApi } from '@/lib/api/client';

const AWAITING_MS = 3_000;

/** Circuits by status; while some wait to be computed anew, looked at often, and the list is read again once none does. */
export function useStandingCounts(customerId: string) {
  const client = useQueryClient();
  const call = { query: customerId === '' ? {} : { customerId } };
  const { data } = useQuery({
    queryKey: [routes.circuits.counts.id, call],
    queryFn: ({ signal }) => callApi(routes.circuits.counts, { ...call, signal }),
    placeholderData: keepPreviousData,
    refetchInterval: ({ state }) => ((state.data?.data.awaiting ?? 0) > 0 ? AWAITING_MS : false),
  });
  const counts = data?.data;
  const awaiting = counts?.awaiting ?? 0;
  const before = useRef(awaiting);
  useEffect(() => {
    if (before.current > 0 && awaiting === 0) {
      void client.invalidateQueries({ queryKey: [routes.circuits.standings.id] });
    }
    before.current = awaiting;
  }, [client, awaiting]);
  return counts;
}
