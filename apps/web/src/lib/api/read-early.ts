import type { Route } from '@repo/contracts';
import { headers } from 'next/headers';
import { preload } from 'react-dom';
import type { CallArguments } from './client';
import { toUrl } from './to-url';

/**
 * Has the browser ask for what a page reads while its scripts are still on their way. The address must be the very one that the page
 * asks for then, or it is asked for twice. Who goes from page to page has the scripts, and such a page reads for itself.
 */
export async function readEarly<const R extends Route>(
  route: R,
  { params, query }: Pick<CallArguments<R>, 'params' | 'query'>,
): Promise<void> {
  if ((await headers()).get('sec-fetch-dest') !== 'document') return;
  preload(toUrl(route.path, params ?? {}, query), { as: 'fetch', crossOrigin: 'anonymous' });
}
