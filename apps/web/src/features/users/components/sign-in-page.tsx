'use client';

import { miniLadder } from '@repo/drawing';
import { useQueryClient } from '@tanstack/react-query';
import { useRouter, useSearchParams } from 'next/navigation';
import { useTranslate } from '@/lib/i18n/i18n';
import { SvgDrawing } from '@/ui/svg-drawing';
import { SignInForm } from './sign-in-form';
import styles from './sign-in.module.css';

/** A pressure ladder as it should be: nothing but an ornament here. */
const LADDER = miniLadder({
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

/** Only a path of ours may follow: an address of elsewhere in `next` would make this page a trap. */
function toSafePath(next: string | null): string {
  return next !== null && /^\/(?![/\\])/.test(next) ? next : '/';
}

export function SignInPage() {
  const t = useTranslate();
  const router = useRouter();
  const client = useQueryClient();
  const next = toSafePath(useSearchParams().get('next'));
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
          <h1>{t('signIn.title')}</h1>
          <SignInForm
            onSignedIn={() => {
              client.clear();
              router.replace(next);
            }}
          />
        </div>
      </div>
    </main>
  );
}
