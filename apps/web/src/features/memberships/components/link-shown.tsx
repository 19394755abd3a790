'use client';

import type { CreatedInvitation } from '@repo/contracts';
import { useDates, useTranslate } from '@/lib/i18n/i18n';
import { ShownOnce } from '@/lib/shown-once';

/** A link that is shown this once, to be passed on. */
export function LinkShown({ invitation, onDone }: { invitation: CreatedInvitation; onDone: () => void }) {
  const t = useTranslate();
  const dates = useDates();
  return (
    <ShownOnce
      title={t('people.linkFor', { name: invitation.displayName, until: dates.atDay(invitation.expiresAt) })}
      secret={`${window.location.origin}/invitation#${invitation.token}`}
      copyText={t('people.copyLink')}
      closeText={t('action.close')}
      onDone={onDone}
    >
      <p>{t('people.linkMeans')}</p>
      <p>{invitation.mailed ? t('people.linkMailed', { email: invitation.email }) : t('people.linkNotMailed')}</p>
    </ShownOnce>
  );
}
