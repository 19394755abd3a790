'use client';

import { useTranslate } from '@/lib/i18n/i18n';
import { useSession } from '@/lib/session/session';
import { PageHead, Panel } from '@/ui/panel';
import { StackedPanels } from '@/ui/stack';
import { PasskeysPanel } from './account/passkeys-panel';
import { CodesSetUp } from './account/codes-panel';

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
      <StackedPanels>
        <Panel title={t('codes.title')}>
          <CodesSetUp onDone={onDone} />
        </Panel>
        <PasskeysPanel onAdded={onDone} />
      </StackedPanels>
    </>
  );
}
