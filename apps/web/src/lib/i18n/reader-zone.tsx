'use client';

import { createContext, useContext, useEffect, useState, type ReactNode } from 'react';
import { getBrowserZone } from '@/lib/zoned-day';
import { ZONE_COOKIE } from './zone-cookie';

const ZoneContext = createContext('UTC');

/** The time zone of the reader's own clock. A cookie makes the first paint right; the browser decides. */
export function ReaderZoneProvider({ initial, children }: { initial: string; children: ReactNode }) {
  const [zone, setZone] = useState(initial);
  useEffect(() => {
    const browserZone = getBrowserZone();
    document.cookie = `${ZONE_COOKIE}=${encodeURIComponent(browserZone)}; Path=/; SameSite=Lax; Max-Age=31536000`;
    setZone(browserZone);
  }, []);
  return <ZoneContext value={zone}>{children}</ZoneContext>;
}

export const useReaderZone = (): string => useContext(ZoneContext);
