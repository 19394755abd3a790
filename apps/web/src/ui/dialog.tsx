'use client';

import { useId, useLayoutEffect, useRef, type KeyboardEvent, type ReactNode } from 'react';
import { Button } from './button';
import styles from './dialog.module.css';
import { FirstField } from './first-field';

interface DialogProps {
  title: string;
  isOpen: boolean;
  /** left out: cannot be dismissed */
  onClose?: () => void;
  closeText: string;
  isWide?: boolean;
  children: ReactNode;
}

const isListOpen = (target: EventTarget): boolean =>
  target instanceof Element && target.getAttribute('aria-expanded') === 'true';

function Window({ title, onClose, closeText, isWide = false, children }: Omit<DialogProps, 'isOpen'>) {
  const box = useRef<HTMLDialogElement>(null);
  const titleId = useId();
  // Before the effects of what is inside, which set the focus. Closing gives it back to where it was.
  useLayoutEffect(() => {
    const dialog = box.current;
    if (dialog === null) return undefined;
    dialog.showModal();
    dialog.focus();
    return () => dialog.close();
  }, []);
  // An open list in it takes the key for itself; where nothing may be dismissed it does nothing.
  const keepOpen = (event: KeyboardEvent): void => {
    if (event.key === 'Escape' && (onClose === undefined || isListOpen(event.target))) event.preventDefault();
  };
  // Browsers close a dialog by themselves when somebody insists.
  const answerClosed = (): void => {
    const dialog = box.current;
    if (dialog === null || dialog.open || !dialog.isConnected) return;
    if (onClose === undefined) dialog.showModal();
    else onClose();
  };
  return (
    <dialog
      ref={box}
      className={styles['veil']}
      aria-labelledby={titleId}
      tabIndex={-1}
      onKeyDownCapture={keepOpen}
      onCancel={(event) => {
        if (event.target !== event.currentTarget) return;
        event.preventDefault();
        onClose?.();
      }}
      onClose={(event) => {
        if (event.target === event.currentTarget) answerClosed();
      }}
    >
      <div className={[styles['window'], isWide ? styles['wide'] : ''].join(' ')}>
        <div className={styles['head']}>
          <h2 id={titleId}>{title}</h2>
          {onClose === undefined ? null : (
            <Button look="plain" onClick={onClose}>
              {closeText}
            </Button>
          )}
        </div>
        <FirstField>{children}</FirstField>
      </div>
    </dialog>
  );
}

/** A dialog over the page: the browser's own, which keeps the focus, closes with Escape, and gives the focus back. */
export function Dialog({ isOpen, ...props }: DialogProps) {
  return isOpen ? <Window {...props} /> : null;
}
