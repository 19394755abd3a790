'use client';

import { usePathname } from 'next/navigation';
import { useEffect, useState } from 'react';
import { useDates, useTranslate } from '@/lib/i18n/i18n';
import { Button } from '@/ui/button';
import { Notice } from '@/ui/notice';
import { onDraftChange } from './draft-changes';
import { dropDraft, listDrafts, type StoredDraft } from './draft-store';
import { useDraftOwner } from './use-draft';

/** On a page where somebody typed and did not send: what, and when. It goes as soon as the form is opened again. */
export function UnsentNote() {
  const t = useTranslate();
  const dates = useDates();
  const path = usePathname();
  const owner = useDraftOwner();
  const [drafts, setDrafts] = useState<readonly StoredDraft[]>([]);
  useEffect(() => {
    const forget = (name: string): void => setDrafts((before) => before.filter((draft) => draft.name !== name));
    const stop = onDraftChange(forget);
    setDrafts(listDrafts(localStorage, owner, Date.now()).filter((draft) => draft.path === path));
    return stop;
  }, [owner, path]);
  return (
    <div role="status">
      {drafts.map(({ name, label, savedAt }) => (
        <Notice key={name}>
          <p>{t('form.unsent', { form: label, date: dates.atTime(new Date(savedAt).toISOString()) })}</p>
          <Button
            look="plain"
            onClick={() => {
              dropDraft(localStorage, owner, name);
              setDrafts((before) => before.filter((draft) => draft.name !== name));
            }}
          >
            {t('form.discard')}
          </Button>
        </Notice>
      ))}
    </div>
  );
}
