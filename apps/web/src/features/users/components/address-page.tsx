'use client';

import { routes } from '@repo/contracts';
import { useApiChange } from '@/lib/api/hooks';
import { useTranslate } from '@/lib/i18n/i18n';
import { useLinkToken } from '@/lib/link-token';
import { useProblemText } from '@/lib/states';
import { Button, ButtonLink } from '@/ui/button';
import { FormActions } from '@/ui/field';
import { Notice } from '@/ui/notice';
import { EntryPage } from './entry-page';

/** Where the link that proves an address leads. A button, since programs that look at mail open links as well. */
export function AddressPage() {
  const t = useTranslate();
  const toText = useProblemText();
  const token = useLinkToken();
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
          onClick={() => prove.mutate({ body: { token: token ?? '' } })}
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
