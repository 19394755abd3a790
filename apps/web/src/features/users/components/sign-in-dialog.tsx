'use client';

import { useRouter } from 'next/navigation';
import { signInGate } from '@/lib/api/gates';
import { useTranslate } from '@/lib/i18n/i18n';
import { useSession } from '@/lib/session/session';
import { Button } from '@/ui/button';
import { Dialog } from '@/ui/dialog';
import { SignInForm } from './sign-in-form';

/** Over the page when the session has ended: what was typed stays where it is, and the refused request then goes on. */
export function SignInDialog() {
  const t = useTranslate();
  const router = useRouter();
  const { me } = useSession();
  return (
    <Dialog title={t('signIn.again')} isOpen closeText={t('action.close')}>
      <p>{t('signIn.againText')}</p>
      <br />
      <SignInForm email={me.email} onSignedIn={() => signInGate.settle(true)} />
      <br />
      <Button
        look="plain"
        onClick={() => {
          signInGate.settle(false);
          router.replace('/sign-in');
        }}
      >
        {t('signIn.other')}
      </Button>
    </Dialog>
  );
}
