'use client';

import { useEffect, useRef, useState, type ReactNode } from 'react';
import { TextField } from '@/ui/field';
import { useUrlState } from './url-state';

/** So long the fingers rest before the address, and with it the list, changes [ms]. */
const REST_MS = 250;

const inAddress = (name: string): string => new URLSearchParams(window.location.search).get(name) ?? '';

/** A field by which a list is searched; what is looked for stands in the address under a name. */
export function SearchField({ name, ...field }: { name: string; label: string; hint?: ReactNode; maxLength?: number }) {
  const { get, set } = useUrlState();
  const inUrl = get(name) ?? '';
  /** null: as the address says */
  const [typed, setTyped] = useState<string | null>(null);
  const written = useRef(inUrl);
  // Back, or a link, says another word than was typed.
  useEffect(() => {
    const now = inAddress(name);
    if (now === written.current) return;
    written.current = now;
    setTyped(null);
  }, [inUrl, name]);
  useEffect(() => {
    const text = typed?.trim();
    if (text === undefined || text === written.current) return undefined;
    const timer = setTimeout(() => {
      written.current = text;
      set({ [name]: text });
    }, REST_MS);
    return () => clearTimeout(timer);
  }, [typed, name, set]);
  return <TextField {...field} type="search" value={typed ?? inUrl} onChange={setTyped} />;
}
