'use client';

import { miniPressureLadder } from '@repo/drawing';
import type { ReactNode } from 'react';
import { useTranslate } from '@/lib/i18n/i18n';
import { FirstField } from '@/ui/first-field';
import { SvgDrawing } from '@/ui/svg-drawing';
import styles from './sign-in.module.css';

/** A pressure ladder as it should be: nothing but an ornament here. */
const LADDER = miniPressureLadder({
  pressures: {
    requiredPa: 30,
    resetPointPa: 41,
    setPointPa: 46,
    settingPa: 60,
    settingHalfWidthPa: 4,
    workpieceLimitPa: null,
    weakestRatingPa: 82,
    highestPossiblePa: 74,
  },
  status: 'holds',
  lowPa: 0,
  highPa: 100,
  widthPx: 250,
  size: 'row',
  paint: 'page',
  title: '',
});

/** What stands around whatever is done before somebody is signed in. */
export function EntryPage({ title, children }: { title: string; children: ReactNode }) {
  const t = useTranslate();
  return (
    <main id="main" className={styles['page']}>
      <div className={styles['side']}>
        <p className={styles['name']}>{t('app.name')}</p>
        <div>
          <p className={styles['about']}>{t('signIn.about')}</p>
          <div className={styles['drawing']} aria-hidden="true">
            <SvgDrawing drawing={LADDER} />
          </div>
        </div>
        <p className={styles['small']}>{t('caution.judgement')}</p>
      </div>
      <div className={styles['form']}>
        <div>
          <h1>{title}</h1>
          <FirstField>{children}</FirstField>
        </div>
      </div>
    </main>
  );
}
