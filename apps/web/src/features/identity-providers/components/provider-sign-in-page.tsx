'use client';

import { routes } from '@repo/contracts';
import { useQueryClient } from '@tanstack/react-query';
import { useRouter } from 'next/navigation';
import { useEffect, useRef, useState } from 'react';
import { EntryPage, takeReturnPath } from '@/features/users';
import { callApi } from '@/lib/api/client';
import { useTranslate } from '@/lib/i18n/i18n';
import { useProblemText } from '@/lib/states';
import { ButtonLink } from '@/ui/button';
import { LoadingNote, Notice } from '@/ui/notice';

/** Where an organisation's own sign-in sends people back to. */
export function ProviderSignInPage() {
  const t = useTranslate();
  const router = useRouter();
  const client = useQueryClient();
  const toText = useProblemText();
  const [problem, setProblem] = useState<string | null>(null);
  const hasBegun = useRef(false);
  useEffect(() => {
    // The answer is good once: a page that is drawn twice must not send it twice.
    if (hasBegun.current) return;
    hasBegun.current = true;
    const query = window.location.search.slice(1);
    // What the provider sent along is of no use any more, and need not stay in the history.
    window.history.replaceState(null, '', window.location.pathname);
    callApi(routes.identityProviders.complete, { body: { query: query === '' ? '-' : query } }).then(
      () => {
        client.clear();
        router.replace(takeReturnPath());
      },
      (error: unknown) => setProblem(toText(error)),
    );
  }, [client, router, toText]);
  return (
    <EntryPage title={problem === null ? t('provider.arriving') : t('provider.notIn')}>
      {problem === null ? (
        <LoadingNote text={t('state.loading')} />
      ) : (
        <>
          <Notice role="alert">{problem}</Notice>
          <br />
          <ButtonLink href="/sign-in">{t('forgotten.back')}</ButtonLink>
        </>
      )}
    </EntryPage>
  );
}
