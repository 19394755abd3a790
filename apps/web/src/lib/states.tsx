'use client';

import type { UseQueryResult } from '@tanstack/react-query';
import { useState, type ReactNode } from 'react';
import { Button, ButtonLink } from '@/ui/button';
import { LoadingNote, StateNote } from '@/ui/notice';
import { isApiError } from './api/problem';
import { useTranslate } from './i18n/i18n';

/** Why something could not be shown or done, in words of the catalogue. */
export function useProblemText(): (error: unknown) => string {
  const t = useTranslate();
  return (error) => {
    if (!isApiError(error)) return t('problem.unknown');
    return t.find(`problem.${error.code}`) ?? t('problem.unknown');
  };
}

export function FailedNote({
  error,
  onRetry,
  isPage = false,
}: {
  error: unknown;
  onRetry?: () => void;
  isPage?: boolean;
}) {
  const t = useTranslate();
  const toText = useProblemText();
  const code = isApiError(error) ? error.code : '';
  const requestId = isApiError(error) ? error.requestId : null;
  if (code === 'request.not_found') {
    return (
      <StateNote
        role="alert"
        isPage={isPage}
        title={t('state.notFound.title')}
        actions={<ButtonLink href="/">{t('state.home')}</ButtonLink>}
      >
        {t('state.notFound.text')}
      </StateNote>
    );
  }
  if (code === 'session.role') {
    return (
      <StateNote
        role="alert"
        isPage={isPage}
        title={t('state.noRight.title')}
        actions={<ButtonLink href="/">{t('state.home')}</ButtonLink>}
      >
        {t('state.noRight.text')}
      </StateNote>
    );
  }
  const title = code === 'client.offline' ? t('state.offline.title') : t('state.failed.title');
  return (
    <StateNote
      role="alert"
      isPage={isPage}
      title={title}
      actions={onRetry === undefined ? undefined : <Button onClick={onRetry}>{t('state.retry')}</Button>}
    >
      {toText(error)}
      {requestId === null ? null : ` ${t('state.requestId', { id: requestId })}`}
    </StateNote>
  );
}

/** Loading, failed, or what came: one way for all parts of all pages. */
export function Loaded<T>({
  query,
  isPage = false,
  children,
}: {
  isPage?: boolean;
  query: Pick<UseQueryResult<T>, 'data' | 'error' | 'refetch'>;
  children: (data: T) => ReactNode;
}) {
  const t = useTranslate();
  if (query.data !== undefined) return children(query.data);
  if (query.error !== null)
    return <FailedNote error={query.error} isPage={isPage} onRetry={() => void query.refetch()} />;
  return <LoadingNote text={t('state.loading')} />;
}

/** For a form, which keeps what it is given first: nothing that was read before the last change gets into it. */
export function LoadedForForm<T>({ query, children }: { query: UseQueryResult<T>; children: (data: T) => ReactNode }) {
  const t = useTranslate();
  const isFresh = !query.isStale || query.isFetchedAfterMount;
  const [wasFresh, setWasFresh] = useState(isFresh);
  if (isFresh && !wasFresh) setWasFresh(true);
  if (!isFresh && !wasFresh) return <LoadingNote text={t('state.loading')} />;
  return <Loaded query={query}>{children}</Loaded>;
}
