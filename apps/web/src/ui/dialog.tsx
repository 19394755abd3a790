'use client';

import { lazy, Suspense, useEffect, useState } from 'react';
import type { DialogProps } from './dialog-window';

const fetchWindow = () => import('./dialog-window');
const DialogWindow = lazy(fetchWindow);

/**
 * A dialog over the page: keeps the focus, closes with Escape, gives the focus back. Its program comes once the page stands, so that
 * it is here before somebody opens it, and when there is no network.
 */
export function Dialog(props: DialogProps) {
  const [isWanted, setWanted] = useState(props.isOpen);
  if (props.isOpen && !isWanted) setWanted(true);
  useEffect(() => void fetchWindow(), []);
  return isWanted ? (
    <Suspense>
      <DialogWindow {...props} />
    </Suspense>
  ) : null;
}
