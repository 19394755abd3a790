'use client';

import { useState, type ReactNode } from 'react';
import { useTranslate } from '@/lib/i18n/i18n';
import { Button } from '@/ui/button';
import { FormActions } from '@/ui/field';
import { Notice } from '@/ui/notice';
import styles from './shown-once.module.css';

/** Something that is shown now and never again: what it is, itself, what goes with it, and a button that copies it. */
export function ShownOnce({
  title,
  secret,
  copyText,
  closeText,
  children,
  onDone,
}: {
  title: string;
  secret: string;
  copyText: string;
  closeText: string;
  children: ReactNode;
  onDone: () => void;
}) {
  const t = useTranslate();
  const [isCopied, setCopied] = useState(false);
  return (
    <>
      <Notice role="status">
        <p>{title}</p>
        <p>
          <code className={styles['secret']}>{secret}</code>
        </p>
        {children}
      </Notice>
      <br />
      <FormActions>
        <Button onClick={() => void navigator.clipboard.writeText(secret).then(() => setCopied(true))}>
          {copyText}
        </Button>
        <Button look="strong" onClick={onDone}>
          {closeText}
        </Button>
        <span role="status">{isCopied ? t('calculations.copied') : ''}</span>
      </FormActions>
    </>
  );
}
