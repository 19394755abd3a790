'use client';

import { useSession } from '@/lib/session/session';
import { useCallback, useEffect, useMemo, useRef, useState } from 'react';
import { dropDraft, findDraft, keepDraft, type DraftOwner } from './draft-store';
import { tellDraftChange } from './draft-changes';

export function useDraftOwner(): DraftOwner {
  const { me } = useSession();
  const { userId } = me;
  const { organisationId } = me.membership;
  return useMemo(() => ({ userId, organisationId }), [userId, organisationId]);
}

/**
 * What is being typed, kept in this browser through an error, an ended session, a reload and the browser's end, until it was sent,
 * thrown away, or its person signed out.
 * @param toKept what of it may be kept: never a secret
 */
export function useDraft<T extends object>(name: string, initial: T, toKept: (draft: T) => T = (draft) => draft) {
  const owner = useDraftOwner();
  const [draft, set] = useState(initial);
  const [restoredAt, setRestoredAt] = useState<number | null>(null);
  const [isKept, setKept] = useState(true);
  const first = useRef(initial);
  const label = useRef('');
  const kept = useRef(toKept);
  kept.current = toKept;
  const current = useRef(initial);

  useEffect(() => {
    const stored = findDraft(localStorage, owner, name, Date.now());
    if (stored === null) return;
    current.current = { ...first.current, ...(stored.value as Partial<T>) };
    set(current.current);
    setRestoredAt(stored.savedAt);
    tellDraftChange(name);
  }, [owner, name]);

  const setDraft = useCallback(
    (change: (before: T) => Partial<T>) => {
      current.current = { ...current.current, ...change(current.current) };
      set(current.current);
      const draftToKeep = {
        name,
        label: label.current,
        path: window.location.pathname,
        savedAt: Date.now(),
        value: kept.current(current.current),
      };
      setKept(keepDraft(localStorage, owner, draftToKeep));
    },
    [owner, name],
  );
  const clearDraft = useCallback(
    (next?: T) => {
      dropDraft(localStorage, owner, name);
      current.current = next ?? first.current;
      set(current.current);
      setRestoredAt(null);
      setKept(true);
      tellDraftChange(name);
    },
    [owner, name],
  );
  /** what the form is called on screen, for whoever finds the draft again */
  const describe = useCallback((text: string) => {
    label.current = text;
  }, []);
  return { draft, setDraft, clearDraft, describe, restoredAt, isKept };
}
