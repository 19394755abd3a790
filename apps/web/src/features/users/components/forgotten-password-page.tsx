'use client';

import { routes } from '@repo/contracts';
import { Link } from '@/ui/link';
import { useApiChange } from '@/lib/api/hooks';
import { EntryForm, text, useEntryForm } from '@/lib/forms';
import { useTranslate } from '@/lib/i18n/i18n';
import { Notice } from '@/ui/notice';
import { EntryPage } from './entry-page';
import styles from './sign-in.module.css';

const FIELDS = { email: text({ label: 'signIn.email', type: 'email', autoComplete: 'username', isRequired: true }) };

/** Asks for a link to a new password. What it answers says nothing about whether there is such an account. */
export function ForgottenPasswordPage() {
  const t = useTranslate();
  const form = useEntryForm({ name: 'forgotten', fields: FIELDS, initial: { email: '' } });
  const ask = useApiChange(routes.users.requestPasswordReset);
  const answer = ask.data?.data;
  return (
    <EntryPage title={t('forgotten.title')}>
      {answer === undefined ? (
        <EntryForm
          form={form}
          label={t('forgotten.title')}
          look="strong"
          submitText={t('forgotten.action')}
          onSubmit={({ email }) => ask.mutateAsync({ body: { email } })}
        >
          <p>{t('forgotten.text')}</p>
        </EntryForm>
      ) : (
        <Notice role="status">
          <p>{answer.mailed ? t('forgotten.sent', { email: form.drafts.email.trim() }) : t('forgotten.noMail')}</p>
          {answer.mailed ? <p>{t('forgotten.notProven')}</p> : null}
        </Notice>
      )}
      <p className={styles['more']}>
        <Link href="/sign-in">{t('forgotten.back')}</Link>
      </p>
    </EntryPage>
  );
}
