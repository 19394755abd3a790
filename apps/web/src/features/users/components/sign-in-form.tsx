'use client';

import { routes } from '@repo/contracts';
import { useEffect, useRef, useState } from 'react';
import { callApi } from '@/lib/api/client';
import { isApiError } from '@/lib/api/problem';
import { useTranslate } from '@/lib/i18n/i18n';
import { useFormErrors } from '@/lib/forms/use-form-errors';
import { Button } from '@/ui/button';
import { ErrorSummary, Form, FormActions, TextField } from '@/ui/field';

export interface GivenCredentials {
  email: string;
  password: string;
  code?: string;
}

/** E-mail and password, or the password alone, then a one-time code where the account asks for one. Pasting and password managers work. */
export function CredentialsForm({
  name,
  email: known,
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
  const t = useTranslate();
  const [email, setEmail] = useState(known ?? '');
  const [password, setPassword] = useState('');
  const [code, setCode] = useState<string | null>(null);
  const [isBusy, setBusy] = useState(false);
  const codeField = useRef<HTMLDivElement>(null);
  const labels = { email: t('signIn.email'), password: t('signIn.password'), code: t('signIn.code') };
  const form = useFormErrors(name, labels);
  const isCodeAsked = code !== null;
  useEffect(() => {
    if (isCodeAsked) codeField.current?.querySelector('input')?.focus();
  }, [isCodeAsked]);

  const submit = async (): Promise<void> => {
    const missing = [
      ...(!isKnown && email.trim() === '' ? [{ field: 'email', text: t('signIn.emailMissing') }] : []),
      ...(password === '' ? [{ field: 'password', text: t('signIn.passwordMissing') }] : []),
      ...(code !== null && code.trim() === '' ? [{ field: 'code', text: t('signIn.codeMissing') }] : []),
    ];
    if (form.refuse(missing)) return;
    setBusy(true);
    try {
      await send({ email: email.trim(), password, ...(code === null ? {} : { code }) });
    } catch (error) {
      if (isApiError(error) && error.code === 'session.code_needed') setCode('');
      else if (isApiError(error) && error.code === 'session.code_wrong') {
        form.refuse([{ field: 'code', text: t('problem.session.code_wrong') }]);
      } else form.takeFailure(error);
    } finally {
      setBusy(false);
    }
  };

  return (
    <Form onSubmit={() => void submit()} label={label}>
      <ErrorSummary title={t('form.problem')} summary={form.summary} />
      {isKnown ? null : (
        <TextField
          id={form.idOf('email')}
          label={labels.email}
          error={form.errorOf('email')}
          type="email"
          autoComplete="username"
          value={email}
          onChange={(typed) => {
            setEmail(typed);
            form.settle('email');
          }}
        />
      )}
      <TextField
        id={form.idOf('password')}
        label={labels.password}
        error={form.errorOf('password')}
        type="password"
        autoComplete="current-password"
        value={password}
        onChange={(typed) => {
          setPassword(typed);
          form.settle('password');
        }}
      />
      {code === null ? null : (
        <div ref={codeField}>
          <TextField
            id={form.idOf('code')}
            label={labels.code}
            hint={t('signIn.codeHint')}
            error={form.errorOf('code')}
            autoComplete="one-time-code"
            autoCapitalize="off"
            spellCheck={false}
            value={code}
            onChange={(typed) => {
              setCode(typed);
              form.settle('code');
            }}
          />
        </div>
      )}
      <FormActions>
        <Button look="strong" type="submit" disabled={isBusy}>
          {isBusy ? busyText : submitText}
        </Button>
      </FormActions>
    </Form>
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
