'use client';

import { useSyncExternalStore } from 'react';

/** What stands behind the # of the page's address. It never leaves the browser by itself, so no log on the way holds it. */
const read = (): string => window.location.hash.slice(1);

function subscribe(notify: () => void): () => void {
  window.addEventListener('hashchange', notify);
  return () => window.removeEventListener('hashchange', notify);
}

/** The token of a link; null until the browser has told. */
export function useLinkToken(): string | null {
  return useSyncExternalStore(subscribe, read, () => null);
}
