'use client';

import { routes } from '@repo/contracts';
import { useState } from 'react';
import { callApi } from '@/lib/api/client';
import { useTranslate } from '@/lib/i18n/i18n';
import { useFormErrors } from '@/lib/forms/use-form-errors';
import { Button } from '@/ui/button';
import { ErrorSummary, Form, FormActions, TextField } from '@/ui/field';

/** E-mail and password. Pasting and password managers work: nothing has to be remembered. */
export function SignInForm({ email: known, onSignedIn }: { email?: string; onSignedIn: () => void }) {
  const t = useTranslate();
  const [email, setEmail] = useState(known ?? '');
  const [password, setPassword] = useState('');
  const [isBusy, setBusy] = useState(false);
  const labels = { email: t('signIn.email'), password: t('signIn.password') };
  const form = useFormErrors('sign-in', labels);

  const submit = async (): Promise<void> => {
    const missing = [
      ...(email.trim() === '' ? [{ field: 'email', text: t('signIn.emailMissing') }] : []),
      ...(password === '' ? [{ field: 'password', text: t('signIn.passwordMissing') }] : []),
    ];
    if (form.refuse(missing)) return;
    setBusy(true);
    try {
      await callApi(routes.users.signIn, { body: { email: email.trim(), password } });
      onSignedIn();
    } catch (error) {
      form.takeFailure(error);
    } finally {
      setBusy(false);
    }
  };

  return (
    <Form onSubmit={() => void submit()} label={t('signIn.title')}>
      <ErrorSummary title={t('form.problem')} errors={form.summary} />
      <TextField
        id={form.idOf('email')}
        label={labels.email}
        error={form.errorOf('email')}
        type="email"
        autoComplete="username"
        value={email}
        onChange={setEmail}
      />
      <TextField
        id={form.idOf('password')}
        label={labels.password}
        error={form.errorOf('password')}
        type="password"
        autoComplete="current-password"
        value={password}
        onChange={setPassword}
      />
      <FormActions>
        <Button look="strong" type="submit" disabled={isBusy}>
          {isBusy ? t('signIn.busy') : t('signIn.action')}
        </Button>
      </FormActions>
    </Form>
  );
}
