'use client';

import { createContext, lazy, Suspense, useContext, useState, type ComponentType } from 'react';
import { useTranslate } from '@/lib/i18n/i18n';
import { Button } from '@/ui/button';
import { LoadingNote, StateNote } from '@/ui/notice';

const Retry = createContext<() => void>(() => undefined);

/** Where the network has gone before it came. What was typed elsewhere is kept, here and on the page. */
function NotHere() {
  const t = useTranslate();
  const retry = useContext(Retry);
  return (
    <StateNote
      role="alert"
      title={t('state.failed.title')}
      actions={<Button onClick={retry}>{t('state.retry')}</Button>}
    >
      {t('state.offline.note')}
    </StateNote>
  );
}

/** A part of a page that comes only when it is shown: what nobody opens costs nobody anything. */
export function late<P extends object>(load: () => Promise<ComponentType<P>>): ComponentType<P> {
  const fetchPart = () =>
    lazy(() =>
      load().then(
        (part) => ({ default: part }),
        () => ({ default: NotHere as ComponentType<P> }),
      ),
    );
  let latest = fetchPart();
  return function Late(props: P) {
    const t = useTranslate();
    const [Part, setPart] = useState(() => latest);
    const retry = (): void => {
      latest = fetchPart();
      setPart(() => latest);
    };
    return (
      <Retry.Provider value={retry}>
        <Suspense fallback={<LoadingNote text={t('state.loading')} />}>
          <Part {...props} />
        </Suspense>
      </Retry.Provider>
    );
  };
}
