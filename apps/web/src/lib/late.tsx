'use client';

import { lazy, Suspense, type ComponentType } from 'react';
import { useTranslate } from '@/lib/i18n/i18n';
import { Button } from '@/ui/button';
import { LoadingNote, StateNote } from '@/ui/notice';

/** Where the network has gone before it came. What was typed elsewhere is kept. */
function NotHere() {
  const t = useTranslate();
  return (
    <StateNote
      role="alert"
      title={t('state.failed.title')}
      actions={<Button onClick={() => window.location.reload()}>{t('state.reload')}</Button>}
    >
      {t('state.offline.note')}
    </StateNote>
  );
}

/** A part of a page that comes only when it is shown: what nobody opens costs nobody anything. */
export function late<P extends object>(load: () => Promise<ComponentType<P>>): ComponentType<P> {
  const Part = lazy(() =>
    load().then(
      (part) => ({ default: part }),
      () => ({ default: NotHere as ComponentType<P> }),
    ),
  );
  return function Late(props: P) {
    const t = useTranslate();
    return (
      <Suspense fallback={<LoadingNote text={t('state.loading')} />}>
        <Part {...props} />
      </Suspense>
    );
  };
}
