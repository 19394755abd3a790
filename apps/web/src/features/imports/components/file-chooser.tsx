'use client';

import { useId } from 'react';
import { useTranslate } from '@/lib/i18n/i18n';
import styles from './imports.module.css';

export function FileChooser({
  isSending,
  onFile,
  label,
  hint,
}: {
  isSending: boolean;
  onFile: (file: File) => void;
  /** in place of the usual words */
  label?: string;
  hint?: string;
}) {
  const t = useTranslate();
  const id = useId();
  return (
    <div className={styles['chooser']}>
      <label htmlFor={id}>{label ?? t('imports.choose')}</label>
      <p id={`${id}-hint`} className={styles['quiet']}>
        {hint ?? t('imports.chooseHint')}
      </p>
      <input
        id={id}
        type="file"
        accept=".csv,.txt,.tsv,.xlsx"
        aria-describedby={`${id}-hint`}
        disabled={isSending}
        onChange={(event) => {
          const file = event.target.files?.[0];
          if (file !== undefined) onFile(file);
        }}
      />
      <p role="status">{isSending ? t('imports.sending') : ''}</p>
    </div>
  );
}
