'use client';

import { routes } from '@repo/contracts';
import { useRouter } from 'next/navigation';
import { useEffect, useState } from 'react';
import { useApiChange } from '@/lib/api/hooks';
import { isApiError } from '@/lib/api/problem';
import { useTranslate } from '@/lib/i18n/i18n';
import { useLinkToken } from '@/lib/link-token';
import { useProblemText } from '@/lib/states';
import { Button, ButtonLink } from '@/ui/button';
import { FormActions } from '@/ui/field';
import { Notice } from '@/ui/notice';
import { EntryPage } from './entry-page';

const KEY = 'kedge-address-token';

/** Where the link that proves an address leads. A button, since programs that look at mail open links as well. */
export function AddressPage() {
  const t = useTranslate();
  const toText = useProblemText();
  const linked = useLinkToken();
  const [token, setToken] = useState<string | null>(null);
  const router = useRouter();
  // Somebody who signs in first comes back here without what stood behind the #.
  useEffect(() => {
    if (linked === null) return;
    if (linked !== '') sessionStorage.setItem(KEY, linked);
    setToken(sessionStorage.getItem(KEY));
  }, [linked]);
  const prove = useApiChange(routes.users.completeAddressProof);
  if (prove.isSuccess) {
    return (
      <EntryPage title={t('address.done')}>
        <Notice role="status">{t('address.doneText')}</Notice>
        <br />
        <ButtonLink look="strong" href="/">
          {t('state.home')}
        </ButtonLink>
      </EntryPage>
    );
  }
  return (
    <EntryPage title={t('address.title')}>
      <p>{t('address.text')}</p>
      <br />
      <FormActions>
        <Button
          look="strong"
          disabled={prove.isPending || token === null}
          onClick={() =>
            prove.mutate(
              { body: { token: token ?? '' } },
              {
                onError: (error) => {
                  if (isApiError(error) && error.code === 'session.needed') router.push('/sign-in?next=/address');
                },
                onSuccess: () => sessionStorage.removeItem(KEY),
              },
            )
          }
        >
          {t('address.action')}
        </Button>
      </FormActions>
      {prove.error === null ? null : (
        <>
          <br />
          <Notice role="alert">{toText(prove.error)}</Notice>
        </>
      )}
    </EntryPage>
  );
}
