'use client';

import { routes } from '@repo/contracts';
import { useEffect, useState } from 'react';
import { callApi } from '@/lib/api/client';
import { isApiError } from '@/lib/api/problem';
import { EntryForm, oneTimeCode, secret, text, useEntryForm } from '@/lib/forms';
import { useTranslate } from '@/lib/i18n/i18n';

export interface GivenCredentials {
  email: string;
  password: string;
  code?: string;
}

const EMAIL = { email: text({ label: 'signIn.email', type: 'email', autoComplete: 'username', isRequired: true }) };
const PASSWORD = { password: secret({ label: 'signIn.password', autoComplete: 'current-password' }) };
const CODE = { code: oneTimeCode({ label: 'signIn.code', hint: 'signIn.codeHint', isAny: true }) };
type Fields = Partial<typeof EMAIL & typeof CODE> & typeof PASSWORD;

/** E-mail and password, or the password alone, then a one-time code where the account asks for one. Pasting and password managers work. */
export function CredentialsForm({
  name,
  email: known = '',
  isKnown = false,
  label,
  submitText,
  busyText,
  send,
}: {
  /** begins the ids of the fields */
  name: string;
  email?: string | undefined;
  /** who it is, is known: only the password is asked */
  isKnown?: boolean;
  label: string;
  submitText: string;
  busyText: string;
  send: (given: GivenCredentials) => Promise<void>;
}) {
  const [isCodeAsked, setCodeAsked] = useState(false);
  const fields: Fields = { ...(isKnown ? {} : EMAIL), ...PASSWORD, ...(isCodeAsked ? CODE : {}) };
  const form = useEntryForm<typeof EMAIL & typeof PASSWORD & typeof CODE>({
    name,
    fields: fields as typeof EMAIL & typeof PASSWORD & typeof CODE,
    initial: { email: known, password: '', code: '' },
    refusals: { 'session.code_wrong': 'code' },
  });
  const codeId = form.errors.idOf('code');
  useEffect(() => {
    if (isCodeAsked) document.getElementById(codeId)?.focus();
  }, [isCodeAsked, codeId]);

  return (
    <EntryForm
      form={form}
      label={label}
      look="strong"
      submitText={submitText}
      busyText={busyText}
      onSubmit={async ({ email, password, code }) => {
        try {
          await send({ email: isKnown ? known : email, password, ...(isCodeAsked ? { code } : {}) });
        } catch (error) {
          if (!isApiError(error) || error.code !== 'session.code_needed') throw error;
          setCodeAsked(true);
        }
      }}
    />
  );
}

export function SignInForm({ email, onSignedIn }: { email?: string; onSignedIn: () => void }) {
  const t = useTranslate();
  return (
    <CredentialsForm
      name="sign-in"
      email={email}
      label={t('signIn.title')}
      submitText={t('signIn.action')}
      busyText={t('signIn.busy')}
      send={async (body) => {
        await callApi(routes.users.signIn, { body });
        onSignedIn();
      }}
    />
  );
}
