'use client';

import { routes } from '@repo/contracts';
import Link from 'next/link';
import { useState } from 'react';
import { useApiChange } from '@/lib/api/hooks';
import { useFormErrors } from '@/lib/forms/use-form-errors';
import { useTranslate } from '@/lib/i18n/i18n';
import { Button } from '@/ui/button';
import { ErrorSummary, Form, FormActions, TextField } from '@/ui/field';
import { Notice } from '@/ui/notice';
import { EntryPage } from './entry-page';
import styles from './sign-in.module.css';

/** Asks for a link to a new password. What it answers says nothing about whether there is such an account. */
export function ForgottenPasswordPage() {
  const t = useTranslate();
  const [email, setEmail] = useState('');
  const form = useFormErrors('forgotten', { email: t('signIn.email') });
  const ask = useApiChange(routes.users.requestPasswordReset);
  const submit = (): void => {
    if (form.refuse(email.trim() === '' ? [{ field: 'email', text: t('signIn.emailMissing') }] : [])) return;
    ask.mutate({ body: { email: email.trim() } }, { onError: form.takeFailure });
  };
  const answer = ask.data?.data;
  return (
    <EntryPage title={t('forgotten.title')}>
      {answer === undefined ? (
        <Form onSubmit={submit} label={t('forgotten.title')}>
          <ErrorSummary title={t('form.problem')} summary={form.summary} />
          <p>{t('forgotten.text')}</p>
          <TextField
            id={form.idOf('email')}
            label={t('signIn.email')}
            error={form.errorOf('email')}
            type="email"
            autoComplete="username"
            value={email}
            onChange={(typed) => {
              setEmail(typed);
              form.settle('email');
            }}
          />
          <FormActions>
            <Button look="strong" type="submit" disabled={ask.isPending}>
              {t('forgotten.action')}
            </Button>
          </FormActions>
        </Form>
      ) : (
        <Notice role="status">
          <p>{answer.mailed ? t('forgotten.sent', { email: email.trim() }) : t('forgotten.noMail')}</p>
          {answer.mailed ? <p>{t('forgotten.notProven')}</p> : null}
        </Notice>
      )}
      <p className={styles['more']}>
        <Link href="/sign-in">{t('forgotten.back')}</Link>
      </p>
    </EntryPage>
  );
}
