import { dehydrate, HydrationBoundary, QueryClient } from '@tanstack/react-query';
import { cookies, headers } from 'next/headers';
import type { ReactNode } from 'react';
import type { FirstRead } from './first-read';

/** Who waits longer for the API is better off with a page that asks by itself. */
const PATIENCE_MS = 2_000;

/** Where the API is: as the page server was told, else on this machine at the door through which the request came; null: it may not. */
async function findApi(): Promise<string | null> {
  const port = (await headers()).get('x-api-port') ?? '';
  if (!/^\d{1,5}$/.test(port)) return null;
  const named = process.env['API_URL'];
  return named === undefined || named === '' ? `http://127.0.0.1:${port}` : named;
}

/**
 * Draws a page with what it reads first, read here with the cookie of whoever asks: it can be read before any script has come. Only
 * where a browser opens the page; who goes from page to page has the scripts. What cannot be read in time the page reads by itself.
 */
export async function FirstData({ reads, children }: { reads: readonly FirstRead[]; children: ReactNode }) {
  const [asked, store] = await Promise.all([headers(), cookies()]);
  const api = asked.get('sec-fetch-dest') === 'document' ? await findApi() : null;
  if (api === null) return children;
  const client = new QueryClient();
  const read = async ({ url, key, isPaged }: FirstRead): Promise<void> => {
    const response = await fetch(api + url, {
      headers: {
        accept: 'application/json',
        cookie: store.toString(),
        'user-agent': asked.get('user-agent') ?? '',
        'x-forwarded-for': asked.get('x-forwarded-for') ?? '',
      },
      signal: AbortSignal.timeout(PATIENCE_MS),
      cache: 'no-store',
    });
    if (!response.ok) return;
    const data: unknown = await response.json();
    const found = isPaged ? { pages: [data], pageParams: [null] } : { data, etag: response.headers.get('etag') };
    client.setQueryData([...key], found);
  };
  await Promise.allSettled(reads.map(read));
  return <HydrationBoundary state={dehydrate(client)}>{children}</HydrationBoundary>;
}
