'use client';

import { routes, type Job } from '@repo/contracts';
import { useQuery, useQueryClient } from '@tanstack/react-query';
import { useEffect } from 'react';
import { callApi } from '@/lib/api/client';

const OPEN_MS = 800;
const IDLE_MS = 10_000;
const NEWEST = 50;

export const isOpenJob = (job: Job): boolean => job.state === 'queued' || job.state === 'running';

/** One job, followed until it is over; then everything else is read again, for it may have changed. */
export function useJob(id: string | null) {
  const client = useQueryClient();
  const query = useQuery({
    queryKey: [routes.jobs.get.id, id],
    queryFn: ({ signal }) => callApi(routes.jobs.get, { params: { id: id ?? '' }, signal }),
    enabled: id !== null,
    refetchInterval: ({ state }) => (state.data === undefined || isOpenJob(state.data.data) ? OPEN_MS : false),
  });
  const job = query.data?.data ?? null;
  const state = job?.state ?? null;
  useEffect(() => {
    if (state === null || state === 'queued' || state === 'running') return;
    void client.invalidateQueries({ predicate: ({ queryKey }) => queryKey[0] !== routes.jobs.get.id });
  }, [client, state]);
  return { job, error: query.error };
}

/** The newest jobs; looked at often while one of them runs. */
export function useJobs() {
  return useQuery({
    queryKey: [routes.jobs.list.id, 'newest'],
    queryFn: ({ signal }) => callApi(routes.jobs.list, { query: { limit: NEWEST }, signal }),
    refetchInterval: ({ state }) => (state.data?.data.items.some(isOpenJob) === true ? OPEN_MS : IDLE_MS),
  });
}
