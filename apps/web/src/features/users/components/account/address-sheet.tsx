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

/** The address one signs in with, and whether it is proven: only then can a forgotten password be set anew by a message. */
export function AddressSheet() {
  const t = useTranslate();
  const { me } = useSession();
  const [email, setEmail] = useState(me.email);
  const form = useFormErrors('address', { email: t('signIn.email') });
  const ask = useApiChange(routes.users.requestAddressProof);
  const submit = (): void => {
    if (form.refuse(email.trim() === '' ? [{ field: 'email', text: t('signIn.emailMissing') }] : [])) return;
    ask.mutate({ body: { email: email.trim() } }, { onError: form.takeFailure });
  };
  const answer = ask.data?.data;
  return (
    <Sheet
      title={t('account.address')}
      note={me.emailProven ? t('account.addressProven') : t('account.addressUnproven')}
    >
      <Form onSubmit={submit} label={t('account.address')}>
        <ErrorSummary title={t('form.problem')} summary={form.summary} />
        <TextField
          id={form.idOf('email')}
          label={t('signIn.email')}
          hint={t('account.addressHint')}
          error={form.errorOf('email')}
          type="email"
          autoComplete="email"
          value={email}
          onChange={(typed) => {
            setEmail(typed);
            form.settle('email');
          }}
        />
        <FormActions>
          <Button type="submit" disabled={ask.isPending}>
            {t('account.proveAddress')}
          </Button>
          <span role="status">
            {answer === undefined ? '' : answer.mailed ? t('account.proofSent') : t('account.noMail')}
          </span>
        </FormActions>
      </Form>
    </Sheet>
  );
}
