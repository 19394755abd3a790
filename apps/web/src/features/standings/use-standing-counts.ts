'use client';

import { routes } from '@repo/contracts';
import { useQueryClient } from '@tanstack/react-query';
import { useEffect, useRef } from 'react';
import { useApi } from '@/lib/api/hooks';

const AWAITING_MS = 3_000;

/** Circuits by status; while some wait to be computed anew, looked at often, and the list is read again once none does. */
export function useStandingCounts(customerId: string) {
  const client = useQueryClient();
  const { data } = useApi(
    routes.standings.counts,
    { query: customerId === '' ? {} : { customerId } },
    { isSticky: true, againMs: ({ awaiting }) => (awaiting > 0 ? AWAITING_MS : false) },
  );
  const counts = data?.data;
  const awaiting = counts?.awaiting ?? 0;
  const before = useRef(awaiting);
  useEffect(() => {
    if (before.current > 0 && awaiting === 0) {
      void client.invalidateQueries({ queryKey: [routes.standings.list.id] });
    }
    before.current = awaiting;
  }, [client, awaiting]);
  return counts;
}
