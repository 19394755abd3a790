'use client';

import { routes } from '@repo/contracts';
import { usePathname } from 'next/navigation';
import { callApi } from '@/lib/api/client';
import { proofGate } from '@/lib/api/gates';
import { useTranslate } from '@/lib/i18n/i18n';
import { useSession } from '@/lib/session/session';
import { Dialog } from '@/ui/dialog';
import { LeaveButton } from './leave-button';
import { PasskeyButton } from './passkey-button';
import { CredentialsForm } from './sign-in-form';
import { proveByPasskey } from '../passkeys';

/** Over the page before roles, secrets and credentials change: what was asked for then goes on where it was. */
export function ProofDialog() {
  const t = useTranslate();
  const { me } = useSession();
  const path = usePathname();
  return (
    <Dialog title={t('proof.title')} isOpen closeText={t('action.cancel')} onClose={() => proofGate.settle(false)}>
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
          <CredentialsForm
            isKnown
            name="proof"
            label={t('proof.title')}
            submitText={t('proof.action')}
            busyText={t('proof.action')}
            send={async ({ password, code }) => {
              const body = { password, ...(code === undefined ? {} : { code }) };
              await callApi(routes.users.proveSelf, { body });
              proofGate.settle(true);
            }}
          />
          <br />
          <PasskeyButton text={t('passkeys.prove')} use={proveByPasskey} onDone={() => proofGate.settle(true)} />
        </>
      )}
    </Dialog>
  );
}
