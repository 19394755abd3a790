'use client';

import { useSession } from '@/lib/session/session';
import { useCallback, useEffect, useRef, useState } from 'react';

const PREFIX = 'kedge-draft:';

function findStored<T extends object>(key: string): Partial<T> | null {
  const text = sessionStorage.getItem(PREFIX + key);
  if (text === null) return null;
  try {
    const stored: unknown = JSON.parse(text);
    return typeof stored === 'object' && stored !== null ? stored : null;
  } catch (error) {
    if (error instanceof SyntaxError) return null;
    throw error;
  }
}

/**
 * What is being typed, kept for this tab through an error, an ended session and a reload, until it was sent or thrown away.
 * `isRestored` is true when something was found from before.
 */
export function useDraft<T extends object>(name: string, initial: T) {
  // Whoever signs in next at this tab must not find another person's words.
  const key = `${useSession().me.userId}:${name}`;
  const [draft, set] = useState(initial);
  const [isRestored, setRestored] = useState(false);
  const first = useRef(initial);
  useEffect(() => {
    const stored = findStored<T>(key);
    if (stored !== null) {
      set({ ...first.current, ...stored });
      setRestored(true);
    }
  }, [key]);
  const setDraft = useCallback(
    (change: Partial<T>) =>
      set((before) => {
        const after = { ...before, ...change };
        sessionStorage.setItem(PREFIX + key, JSON.stringify(after));
        return after;
      }),
    [key],
  );
  const clearDraft = useCallback(
    (next?: T) => {
      sessionStorage.removeItem(PREFIX + key);
      set(next ?? first.current);
      setRestored(false);
    },
    [key],
  );
  return { draft, setDraft, clearDraft, isRestored };
}
