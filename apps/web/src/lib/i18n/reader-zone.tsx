'use client';

import { createContext, useContext, useEffect, useState, type ReactNode } from 'react';
import { getBrowserZone } from '@/lib/zoned-day';
import { ZONE_COOKIE } from './zone-cookie';

const ZoneContext = createContext('UTC');

/** For browsers that cannot say when they have time. */
const SOON_MS = 200;

/** Runs it when the browser has time, which what somebody waits for has first. */
function whenIdle(work: () => void): () => void {
  if (!('requestIdleCallback' in window)) {
    const timer = setTimeout(work, SOON_MS);
    return () => clearTimeout(timer);
  }
  const asked = requestIdleCallback(work, { timeout: 2_000 });
  return () => cancelIdleCallback(asked);
}

/**
 * The time zone of the reader's own clock. A cookie makes the first paint right; the browser decides, and is asked once the page stands: the
 * first question about dates takes a phone a tenth of a second.
 */
export function ReaderZoneProvider({ initial, children }: { initial: string; children: ReactNode }) {
  const [zone, setZone] = useState(initial);
  useEffect(
    () =>
      whenIdle(() => {
        const browserZone = getBrowserZone();
        document.cookie = `${ZONE_COOKIE}=${encodeURIComponent(browserZone)}; Path=/; SameSite=Lax; Max-Age=31536000`;
        setZone(browserZone);
      }),
    [],
  );
  return <ZoneContext value={zone}>{children}</ZoneContext>;
}

export const useReaderZone = (): string => useContext(ZoneContext);
