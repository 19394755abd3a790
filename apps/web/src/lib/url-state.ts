'use client';

import { useSearchParams } from 'next/navigation';
import { useCallback } from 'react';

/** What is changed again so soon belongs to the same choice: a word typed on, a list gone through by arrow keys [ms]. */
const SAME_CHOICE_MS = 1_000;

/** The entry of the history that was made last, and of which choice. */
let newest = { href: '', choice: '', at: 0 };

/**
 * State that lives in the address, so that a link opens what one saw, and Back shows it as it was before. Changing it does not go to the
 * server.
 */
export function useUrlState() {
  const parameters = useSearchParams();
  /** @param isDetail it points at a part of what is shown: Back does not go through one after the other */
  const set = useCallback((changes: Readonly<Record<string, string | null>>, isDetail = false) => {
    const next = new URL(window.location.href);
    for (const [name, value] of Object.entries(changes)) {
      if (value === null || value === '') next.searchParams.delete(name);
      else next.searchParams.set(name, value);
    }
    if (next.href === window.location.href) return;
    const choice = Object.keys(changes).join(' ');
    const at = Date.now();
    const isSame = newest.href === window.location.href && newest.choice === choice && at - newest.at < SAME_CHOICE_MS;
    if (isSame || isDetail) window.history.replaceState(null, '', next);
    else window.history.pushState(null, '', next);
    newest = { href: next.href, choice, at };
  }, []);
  return { get: (name: string): string | null => parameters.get(name), set };
}
