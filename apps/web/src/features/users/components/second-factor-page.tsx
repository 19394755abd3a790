'use client';

import { useTranslate } from '@/lib/i18n/i18n';
import { useSession } from '@/lib/session/session';
import { PageHead, Sheet } from '@/ui/sheet';
import { StackedSheets } from '@/ui/stack';
import { PasskeysSheet } from './account/passkeys-sheet';
import { CodesSetUp } from './account/codes-sheet';

/** What stands in the place of every page until a second factor is set up, where the organisation demands one. */
export function SecondFactorPage({ onDone }: { onDone: () => void }) {
  const t = useTranslate();
  const { me } = useSession();
  return (
    <>
      <PageHead
        title={t('codes.demanded', { organisation: me.membership.organisationName })}
        under={t('codes.demandedText')}
      />
      <StackedSheets>
        <Sheet title={t('codes.title')}>
          <CodesSetUp onDone={onDone} />
        </Sheet>
        <PasskeysSheet onAdded={onDone} />
      </StackedSheets>
    </>
  );
}
