'use client';

import type { ReactNode } from 'react';
import { useTranslate } from '@/lib/i18n/i18n';
import { useSession } from '@/lib/session/session';
import { PageHead } from '@/ui/sheet';
import { StackedSheets } from '@/ui/stack';
import { AddressSheet } from './account/address-sheet';
import { CodesSheet } from './account/codes-sheet';
import { MembershipsSheet } from './account/memberships-sheet';
import { NoticesSheet } from './account/notices-sheet';
import { PasskeysSheet } from './account/passkeys-sheet';
import { PasswordSheet } from './account/password-sheet';
import { NameSheet, ReadingSheet } from './account/reading-sheets';
import { SessionsSheet } from './account/sessions-sheet';

/** The person's own affairs: how they read, how they sign in, what happened to their account. */
export function AccountPage({ more }: { more?: ReactNode }) {
  const t = useTranslate();
  const { me } = useSession();
  const isOwn = me.method !== 'provider';
  return (
    <>
      <PageHead title={t('account.title')} under={me.email} />
      <StackedSheets>
        <NoticesSheet />
        <ReadingSheet />
        <NameSheet />
        {me.memberships.length > 1 ? <MembershipsSheet /> : null}
        {isOwn ? (
          <>
            <PasswordSheet />
            <CodesSheet />
            <PasskeysSheet />
            <AddressSheet />
          </>
        ) : null}
        {isOwn ? more : null}
        <SessionsSheet />
      </StackedSheets>
    </>
  );
}
