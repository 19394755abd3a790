'use client';

import { useRouter } from 'next/navigation';
import { useEffect } from 'react';
import { useTranslate } from '@/lib/i18n/i18n';
import { isCustomerRole, SessionProvider, useRole } from '@/lib/session/session';
import { LoadingNote } from '@/ui/notice';

function Redirect() {
  const t = useTranslate();
  const role = useRole();
  const router = useRouter();
  useEffect(() => router.replace(isCustomerRole(role) ? '/portal' : '/fleet'), [role, router]);
  return <LoadingNote text={t('state.loading')} />;
}

/** Everybody starts where their work is. */
export function HomeRedirect() {
  return (
    <main id="main">
      <SessionProvider>
        <Redirect />
      </SessionProvider>
    </main>
  );
}
