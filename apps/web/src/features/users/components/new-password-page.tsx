'use client';

import { routes } from '@repo/contracts';
import { useState } from 'react';
import { useApiChange } from '@/lib/api/hooks';
import { useFormErrors } from '@/lib/forms/use-form-errors';
import { useTranslate } from '@/lib/i18n/i18n';
import { useLinkToken } from '@/lib/link-token';
import { Button, ButtonLink } from '@/ui/button';
import { ErrorSummary, Form, FormActions } from '@/ui/field';
import { Notice } from '@/ui/notice';
import { EntryPage } from './entry-page';
import { NewPasswordField } from './new-password-field';

/** Where the link for a forgotten password leads. */
export function NewPasswordPage() {
  const t = useTranslate();
  const token = useLinkToken();
  const [newPassword, setNewPassword] = useState('');
  const form = useFormErrors('new-password', { newPassword: t('account.newPassword') });
  const change = useApiChange(routes.users.resetPassword);
  const submit = (): void => {
    if (form.refuse(newPassword === '' ? [{ field: 'newPassword', text: t('account.newPasswordMissing') }] : []))
      return;
    change.mutate({ body: { token: token ?? '', newPassword } }, { onError: form.takeFailure });
  };
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
      <Form onSubmit={submit} label={t('newPassword.title')}>
        <ErrorSummary title={t('form.problem')} summary={form.summary} />
        <NewPasswordField
          id={form.idOf('newPassword')}
          error={form.errorOf('newPassword')}
          value={newPassword}
          onChange={(typed) => {
            setNewPassword(typed);
            form.settle('newPassword');
          }}
        />
        <FormActions>
          <Button look="strong" type="submit" disabled={change.isPending}>
            {t('newPassword.action')}
          </Button>
        </FormActions>
      </Form>
    </EntryPage>
  );
}
