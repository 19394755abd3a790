'use client';

import { routes } from '@repo/contracts';
import { useApiChange } from '@/lib/api/hooks';
import { EntryForm, newPassword, useEntryForm } from '@/lib/forms';
import { useTranslate } from '@/lib/i18n/i18n';
import { useLinkToken } from '@/lib/link-token';
import { ButtonLink } from '@/ui/button';
import { Notice } from '@/ui/notice';
import { EntryPage } from './entry-page';

const FIELDS = { newPassword: newPassword() };

/** Where the link for a forgotten password leads. */
export function NewPasswordPage() {
  const t = useTranslate();
  const token = useLinkToken();
  const form = useEntryForm({ name: 'new-password', fields: FIELDS, initial: { newPassword: '' } });
  const change = useApiChange(routes.users.resetPassword);
  if (change.isSuccess) {
    return (
      <EntryPage title={t('newPassword.done')}>
        <Notice role="status">{t('newPassword.doneText')}</Notice>
        <br />
        <ButtonLink look="strong" href="/sign-in">
          {t('signIn.action')}
        </ButtonLink>
      </EntryPage>
    );
  }
  return (
    <EntryPage title={t('newPassword.title')}>
      <EntryForm
        form={form}
        label={t('newPassword.title')}
        look="strong"
        submitText={t('newPassword.action')}
        onSubmit={(values) => change.mutateAsync({ body: { token: token ?? '', ...values } })}
      />
    </EntryPage>
  );
}
