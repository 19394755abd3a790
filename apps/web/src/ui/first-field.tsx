'use client';

import { useEffect, useRef, type ReactNode } from 'react';

const FIELD = 'input:not([type=checkbox]), select, textarea';

/**
 * Lets somebody at a keyboard type at once: as these come up, the focus goes to the first field, or to the password where only
 * that is still asked for. A caution is read first; and under a finger it would only bring up the keyboard of the screen.
 */
export function FirstField({ children }: { children: ReactNode }) {
  const box = useRef<HTMLDivElement>(null);
  useEffect(() => {
    if (box.current === null || box.current.querySelector('[role=note]') !== null) return;
    if (!window.matchMedia('(pointer: fine)').matches) return;
    const first = box.current.querySelector(FIELD);
    const password = box.current.querySelector('input[type=password]');
    const isFilled = first instanceof HTMLInputElement && first.type === 'email' && first.value !== '';
    const field = isFilled ? password : first;
    if (field instanceof HTMLElement) field.focus();
  }, []);
  return <div ref={box}>{children}</div>;
}
