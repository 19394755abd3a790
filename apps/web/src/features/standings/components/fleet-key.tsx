'use client';

import { useTranslate } from '@/lib/i18n/i18n';
import styles from './fleet.module.css';

const SHAPES = [
  { key: 'required', d: 'M5 1v12', width: 1.4 },
  { key: 'switch', d: 'M5 2.5H2.5v9H5M9 2.5h2.5v9H9', width: 1.2 },
  { key: 'workpiece', d: 'M9 3L5 7l4 4', width: 1.6 },
  { key: 'weakest', d: 'M6 1v12', width: 3.5 },
] as const;

/** What the marks in a row mean. */
export function FleetKey() {
  const t = useTranslate();
  return (
    <p className={styles['key']}>
      {t('fleet.key')}
      {SHAPES.map(({ key, d, width }) => (
        <span key={key}>
          <svg width="14" height="14" viewBox="0 0 14 14" aria-hidden="true">
            <path d={d} fill="none" stroke="currentColor" strokeWidth={width} />
          </svg>
          {t(`fleet.key.${key}`)}
        </span>
      ))}
      <span>
        <svg width="14" height="14" viewBox="0 0 14 14" aria-hidden="true">
          <path d="M0 7h14" stroke="currentColor" strokeWidth="2" />
          <circle cx="7" cy="7" r="4" fill="currentColor" />
        </svg>
        {t('fleet.key.setting')}
      </span>
    </p>
  );
}
