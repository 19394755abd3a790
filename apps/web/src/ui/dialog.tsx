'use client';

import type { ReactNode } from 'react';
import { Dialog as AriaDialog, Heading, Modal, ModalOverlay } from 'react-aria-components';
import { Button } from './button';
import styles from './dialog.module.css';
import { FirstField } from './first-field';

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
          <FirstField>{children}</FirstField>
        </AriaDialog>
      </Modal>
    </ModalOverlay>
  );
}
