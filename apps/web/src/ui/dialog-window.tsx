'use client';

import type { ReactNode } from 'react';
import { Dialog as AriaDialog, Heading, Modal, ModalOverlay } from 'react-aria-components';
import { Button } from './button';
import styles from './dialog.module.css';
import { FirstField } from './first-field';

export interface DialogProps {
  title: string;
  isOpen: boolean;
  /** left out: cannot be dismissed */
  onClose?: () => void;
  closeText: string;
  isWide?: boolean;
  children: ReactNode;
}

/** What `Dialog` shows: a file of its own, since a page that only signs in needs none of it. */
export default function DialogWindow({ title, isOpen, onClose, closeText, isWide = false, children }: DialogProps) {
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
