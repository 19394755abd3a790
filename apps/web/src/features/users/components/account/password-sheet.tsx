'use client';

import { routes } from '@repo/contracts';
import { useState } from 'react';
import { useApiChange } from '@/lib/api/hooks';
import { useFormErrors } from '@/lib/forms/use-form-errors';
import { useTranslate } from '@/lib/i18n/i18n';
import { useSession } from '@/lib/session/session';
import { Button } from '@/ui/button';
import { ErrorSummary, Form, FormActions, TextField } from '@/ui/field';
import { Sheet } from '@/ui/sheet';
import { NewPasswordField } from '../new-password-field';

const NOTHING = { currentPassword: '', newPassword: '' };

export function PasswordSheet() {
  const t = useTranslate();
  const { me } = useSession();
  const [values, setValues] = useState(NOTHING);
  const labels = { currentPassword: t('account.currentPassword'), newPassword: t('account.newPassword') };
  const form = useFormErrors('password', labels);
  const change = useApiChange(routes.users.changePassword, { onDone: () => setValues(NOTHING) });
  const type = (part: Partial<typeof values>): void => {
    setValues({ ...values, ...part });
    for (const field of Object.keys(part)) form.settle(field);
  };
  const submit = (): void => {
    const missing = [
      ...(values.currentPassword === '' ? [{ field: 'currentPassword', text: t('signIn.passwordMissing') }] : []),
      ...(values.newPassword === '' ? [{ field: 'newPassword', text: t('account.newPasswordMissing') }] : []),
    ];
    if (!form.refuse(missing)) change.mutate({ body: values }, { onError: form.takeFailure });
  };
  return (
    <Sheet title={t('account.password')}>
      <Form onSubmit={submit} label={t('account.password')}>
        <ErrorSummary title={t('form.problem')} summary={form.summary} />
        {/* Password managers learn from it whose password it is. */}
        <input hidden readOnly autoComplete="username" value={me.email} />
        <TextField
          id={form.idOf('currentPassword')}
          label={labels.currentPassword}
          error={form.errorOf('currentPassword')}
          type="password"
          autoComplete="current-password"
          value={values.currentPassword}
          onChange={(currentPassword) => type({ currentPassword })}
        />
        <NewPasswordField
          id={form.idOf('newPassword')}
          error={form.errorOf('newPassword')}
          value={values.newPassword}
          onChange={(newPassword) => type({ newPassword })}
        />
        <FormActions>
          <Button type="submit" disabled={change.isPending}>
            {t('account.changePassword')}
          </Button>
          <span role="status">{change.isSuccess ? t('account.passwordChanged') : ''}</span>
        </FormActions>
      </Form>
    </Sheet>
  );
}
