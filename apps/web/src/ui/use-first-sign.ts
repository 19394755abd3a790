'use client';

import { useEffect } from 'react';

const SIGNS = ['pointerdown', 'pointermove', 'keydown'] as const;

/** Does something once somebody begins to use the page: what is fetched then is no part of what the page waits for. */
export function useFirstSign(begin: () => unknown): void {
  useEffect(() => {
    const controller = new AbortController();
    const answer = (): void => {
      controller.abort();
      begin();
    };
    for (const sign of SIGNS) {
      window.addEventListener(sign, answer, { signal: controller.signal, passive: true, capture: true });
    }
    return () => controller.abort();
  }, [begin]);
}
