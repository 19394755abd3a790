'use client';

import { useTranslate } from '@/lib/i18n/i18n';
import { Button } from '@/ui/button';
import { StateNote } from '@/ui/notice';
import styles from './lone-page.module.css';

/** When a page itself broke: often a newer version has been installed meanwhile, which a reload takes. */
export function CrashNote({ onRetry }: { onRetry: () => void }) {
  const t = useTranslate();
  return (
    <div className={styles['page']}>
      <StateNote
        isPage
        role="alert"
        title={t('state.failed.title')}
        actions={
          <>
            <Button onClick={onRetry}>{t('state.retry')}</Button>
            <Button onClick={() => window.location.reload()}>{t('state.reload')}</Button>
          </>
        }
      >
        {t('problem.unknown')}
      </StateNote>
    </div>
  );
}
