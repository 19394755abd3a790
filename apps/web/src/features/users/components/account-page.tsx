'use client';

import type { ReactNode } from 'react';
import { useTranslate } from '@/lib/i18n/i18n';
import { useSession } from '@/lib/session/session';
import { PageHead } from '@/ui/panel';
import { StackedPanels } from '@/ui/stack';
import { AddressPanel } from './account/address-panel';
import { CodesPanel } from './account/codes-panel';
import { MembershipsPanel } from './account/memberships-panel';
import { NoticesPanel } from './account/notices-panel';
import { PasskeysPanel } from './account/passkeys-panel';
import { PasswordPanel } from './account/password-panel';
import { NamePanel, ReadingPanel } from './account/reading-panels';
import { SessionsPanel } from './account/sessions-panel';

/** The person's own affairs: how they read, how they sign in, what happened to their account. */
export function AccountPage({ more }: { more?: ReactNode }) {
  const t = useTranslate();
  const { me } = useSession();
  const isOwn = me.method !== 'provider';
  return (
    <>
      <PageHead title={t('account.title')} under={me.email} />
      <StackedPanels>
        <NoticesPanel />
        <ReadingPanel />
        <NamePanel />
        {me.memberships.length > 1 ? <MembershipsPanel /> : null}
        {isOwn ? (
          <>
            <PasswordPanel />
            <CodesPanel />
            <PasskeysPanel />
            <AddressPanel />
          </>
        ) : null}
        {isOwn ? more : null}
        <SessionsPanel />
      </StackedPanels>
    </>
  );
}
