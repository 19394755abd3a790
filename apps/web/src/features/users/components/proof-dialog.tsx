'use client';

import { routes } from '@repo/contracts';
import { usePathname } from 'next/navigation';
import { useEffect, useState } from 'react';
import { callApi } from '@/lib/api/client';
import { proofGate } from '@/lib/api/gates';
import { isApiError } from '@/lib/api/problem';
import { useFormErrors } from '@/lib/forms/use-form-errors';
import { useTranslate } from '@/lib/i18n/i18n';
import { useSession } from '@/lib/session/session';
import { Button } from '@/ui/button';
import { Dialog } from '@/ui/dialog';
import { LeaveButton } from './leave-button';
import { PasskeyButton } from './passkey-button';
import { proveByPasskey } from '../passkeys';
import { ErrorSummary, Form, FormActions, TextField } from '@/ui/field';

function ProofForm({ onProven }: { onProven: () => void }) {
  const t = useTranslate();
  const [password, setPassword] = useState('');
  const [code, setCode] = useState<string | null>(null);
  const labels = { password: t('signIn.password'), code: t('signIn.code') };
  const form = useFormErrors('proof', labels);

  const submit = async (): Promise<void> => {
    if (form.refuse(password === '' ? [{ field: 'password', text: t('signIn.passwordMissing') }] : [])) return;
    try {
      await callApi(routes.users.proveSelf, { body: { password, ...(code === null ? {} : { code }) } });
      onProven();
    } catch (error) {
      if (isApiError(error) && error.code === 'session.code_needed') setCode('');
      else if (isApiError(error) && error.code === 'session.code_wrong') {
        form.refuse([{ field: 'code', text: t('problem.session.code_wrong') }]);
      } else form.takeFailure(error);
    }
  };

  return (
    <Form onSubmit={() => void submit()} label={t('proof.title')}>
      <ErrorSummary title={t('form.problem')} summary={form.summary} />
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
        <TextField
          id={form.idOf('code')}
          label={labels.code}
          hint={t('signIn.codeHint')}
          error={form.errorOf('code')}
          autoComplete="one-time-code"
          value={code}
          onChange={(typed) => {
            setCode(typed);
            form.settle('code');
          }}
        />
      )}
      <FormActions>
        <Button look="strong" type="submit">
          {t('proof.action')}
        </Button>
      </FormActions>
    </Form>
  );
}

/** Over the page before roles, secrets and credentials change: what was asked for then goes on where it was. */
export function ProofDialog() {
  const t = useTranslate();
  const { me } = useSession();
  const path = usePathname();
  const [isOpen, setOpen] = useState(false);
  useEffect(() => proofGate.register(setOpen), []);
  return (
    <Dialog
      title={t('proof.title')}
      isOpen={isOpen}
      closeText={t('action.cancel')}
      onClose={() => proofGate.settle(false)}
    >
      <p>{t('proof.text')}</p>
      <br />
      {me.method === 'provider' ? (
        <LeaveButton
          look="strong"
          text={t('provider.prove')}
          begin={() => callApi(routes.identityProviders.beginProof, {})}
          returnTo={path}
        />
      ) : (
        <>
          <ProofForm onProven={() => proofGate.settle(true)} />
          <br />
          <PasskeyButton text={t('passkeys.prove')} use={proveByPasskey} onDone={() => proofGate.settle(true)} />
        </>
      )}
    </Dialog>
  );
}
