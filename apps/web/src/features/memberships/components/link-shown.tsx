'use client';

import type { CreatedInvitation } from '@repo/contracts';
import { useState } from 'react';
import { useDates, useTranslate } from '@/lib/i18n/i18n';
import { Button } from '@/ui/button';
import { FormActions } from '@/ui/field';
import { Notice } from '@/ui/notice';
import styles from './people.module.css';

/** A link that is shown this once, to be passed on. */
export function LinkShown({ invitation, onDone }: { invitation: CreatedInvitation; onDone: () => void }) {
  const t = useTranslate();
  const dates = useDates();
  const [isCopied, setCopied] = useState(false);
  const link = `${window.location.origin}/invitation#${invitation.token}`;
  return (
    <>
      <Notice role="status">
        <p>{t('people.linkFor', { name: invitation.displayName, until: dates.atDay(invitation.expiresAt) })}</p>
        <p>
          <code className={styles['link']}>{link}</code>
        </p>
        <p>{invitation.mailed ? t('people.linkMailed', { email: invitation.email }) : t('people.linkNotMailed')}</p>
        <p>{t('people.linkMeans')}</p>
      </Notice>
      <br />
      <FormActions>
        <Button onClick={() => void navigator.clipboard.writeText(link).then(() => setCopied(true))}>
          {t('people.copyLink')}
        </Button>
        <Button look="strong" onClick={onDone}>
          {t('action.close')}
        </Button>
        <span role="status">{isCopied ? t('calculations.copied') : ''}</span>
      </FormActions>
    </>
  );
}
