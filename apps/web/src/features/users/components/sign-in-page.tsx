'use client';

import { routes } from '@repo/contracts';
import { useQueryClient } from '@tanstack/react-query';
import { Link } from '@/ui/link';
import { useRouter, useSearchParams } from 'next/navigation';
import { callApi } from '@/lib/api/client';
import { useTranslate } from '@/lib/i18n/i18n';
import { EntryPage } from './entry-page';
import { LeaveButton } from './leave-button';
import { PasskeyButton } from './passkey-button';
import { signInByPasskey } from '../passkeys';
import { SignInForm } from './sign-in-form';
import styles from './sign-in.module.css';

/** Only a path of ours may follow: an address of elsewhere in `next` would make this page a trap. */
function toSafePath(next: string | null): string {
  return next !== null && /^\/(?![/\\])/.test(next) ? next : '/';
}

export function SignInPage() {
  const t = useTranslate();
  const router = useRouter();
  const client = useQueryClient();
  const parameters = useSearchParams();
  const next = toSafePath(parameters.get('next'));
  const organisationId = parameters.get('organisation');
  const onSignedIn = (): void => {
    client.clear();
    router.replace(next);
  };
  return (
    <EntryPage title={t('signIn.title')}>
      {organisationId === null ? null : (
        <div className={styles['first']}>
          <LeaveButton
            look="strong"
            text={t('provider.signIn')}
            begin={() => callApi(routes.identityProviders.begin, { body: { organisationId } })}
            returnTo={next}
          />
        </div>
      )}
      <SignInForm onSignedIn={onSignedIn} />
      <div className={styles['more']}>
        <PasskeyButton text={t('passkeys.signIn')} use={signInByPasskey} onDone={onSignedIn} />
      </div>
      <p className={styles['more']}>
        <Link href="/forgotten-password">{t('signIn.forgotten')}</Link>
      </p>
    </EntryPage>
  );
}
