'use client';

import { useTranslate } from '@/lib/i18n/i18n';
import { ButtonLink } from '@/ui/button';
import { StateNote } from '@/ui/notice';
import styles from './lone-page.module.css';

export function NotFoundNote() {
  const t = useTranslate();
  return (
    <main id="main" className={styles['page']}>
      <StateNote isPage title={t('state.notFound.title')} actions={<ButtonLink href="/">{t('state.home')}</ButtonLink>}>
        {t('state.notFound.text')}
      </StateNote>
    </main>
  );
}
