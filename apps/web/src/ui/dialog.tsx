'use client';

import { useEffect, useRef, type ReactNode } from 'react';
import { Dialog as AriaDialog, Heading, Modal, ModalOverlay } from 'react-aria-components';
import { Button } from './button';
import styles from './dialog.module.css';

const FIELD = 'input:not([type=checkbox]), select, textarea';

/**
 * Lets somebody at a keyboard type at once: the focus goes to the password that is asked for, or to the first field. A caution
 * is read first; and under a finger it would only bring up the keyboard of the screen.
 */
function Content({ children }: { children: ReactNode }) {
  const box = useRef<HTMLDivElement>(null);
  useEffect(() => {
    if (box.current === null || box.current.querySelector('[role=note]') !== null) return;
    if (!window.matchMedia('(pointer: fine)').matches) return;
    const field = box.current.querySelector('input[type=password]') ?? box.current.querySelector(FIELD);
    if (field instanceof HTMLElement) field.focus();
  }, []);
  return <div ref={box}>{children}</div>;
}

/** A dialog over the page: keeps the focus, closes with Escape, gives the focus back. */
export function Dialog({
  title,
  isOpen,
  onClose,
  closeText,
  isWide = false,
  children,
}: {
  title: string;
  isOpen: boolean;
  /** left out: cannot be dismissed */
  onClose?: () => void;
  closeText: string;
  isWide?: boolean;
  children: ReactNode;
}) {
  return (
    <ModalOverlay
      className={styles['veil'] ?? ''}
      isOpen={isOpen}
      isDismissable={false}
      isKeyboardDismissDisabled={onClose === undefined}
      onOpenChange={(open) => {
        if (!open) onClose?.();
      }}
    >
      <Modal className={[styles['modal'], isWide ? styles['wide'] : ''].join(' ')}>
        <AriaDialog className={styles['dialog'] ?? ''}>
          <div className={styles['head']}>
            <Heading slot="title" level={2}>
              {title}
            </Heading>
            {onClose === undefined ? null : (
              <Button look="plain" onClick={onClose}>
                {closeText}
              </Button>
            )}
          </div>
          <Content>{children}</Content>
        </AriaDialog>
      </Modal>
    </ModalOverlay>
  );
}
