'use client';

import { useSyncExternalStore } from 'react';

const never = (): (() => void) => () => undefined;

/**
 * Whether the page can be used: what the server has drawn can be read before its scripts have come, and must not be pressed
 * until then.
 */
export const useIsReady = (): boolean =>
  useSyncExternalStore(
    never,
    () => true,
    () => false,
  );
