'use client';

import type { ReactNode } from 'react';
import { toStatusMark, type StatusShape } from '@repo/drawing';
import { useTranslate } from '@/lib/i18n/i18n';
import { SvgDrawing } from '@/ui/svg-drawing';
import styles from './status.module.css';

export type { StatusShape };

export const STATUSES: readonly StatusShape[] = ['fails', 'marginal', 'unproven', 'holds'];

export function isStatusShape(text: string | null | undefined): text is StatusShape {
  return ['holds', 'marginal', 'fails', 'unproven', 'not-applicable', 'drifting'].includes(text ?? '');
}

/** A status: its shape, its word, its colour, never one without the others. */
export function Status({ status, children }: { status: StatusShape; children?: ReactNode }) {
  const t = useTranslate();
  return (
    <span className={`${styles['status']} ${styles[status]}`}>
      <svg viewBox="0 0 14 14" aria-hidden="true">
        <SvgDrawing drawing={toStatusMark(status, 'page')} />
      </svg>
      {children ?? t(`status.${status}`)}
    </span>
  );
}
