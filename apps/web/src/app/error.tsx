'use client';

import { useTranslate } from '@/lib/i18n/i18n';
import { Button } from '@/ui/button';
import { StateNote } from '@/ui/notice';

export default function PageError({ reset }: { error: Error & { digest?: string }; reset: () => void }) {
  const t = useTranslate();
  return (
    <main id="main">
      <StateNote
        role="alert"
        title={t('state.failed.title')}
        actions={<Button onClick={reset}>{t('state.retry')}</Button>}
      >
        {t('problem.unknown')}
      </StateNote>
    </main>
  );
}
