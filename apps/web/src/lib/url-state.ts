'use client';

import { useSearchParams } from 'next/navigation';
import { useCallback } from 'react';

/** State that lives in the address, so that a link opens what one saw. Changing it does not go to the server. */
export function useUrlState() {
  const parameters = useSearchParams();
  const set = useCallback((changes: Readonly<Record<string, string | null>>) => {
    const next = new URLSearchParams(window.location.search);
    for (const [name, value] of Object.entries(changes)) {
      if (value === null || value === '') next.delete(name);
      else next.set(name, value);
    }
    const text = next.toString();
    window.history.replaceState(null, '', text === '' ? window.location.pathname : `?${text}`);
  }, []);
  return { get: (name: string): string | null => parameters.get(name), set };
}
