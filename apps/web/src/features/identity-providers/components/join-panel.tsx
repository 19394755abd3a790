'use client';

import { routes } from '@repo/contracts';
import { LeaveButton } from '@/features/users';
import { callApi } from '@/lib/api/client';
import { useApi } from '@/lib/api/hooks';
import { useTranslate } from '@/lib/i18n/i18n';
import { Panel } from '@/ui/panel';

/** Joins the own membership to the organisation's sign-in; not there where the organisation has none. */
export function JoinPanel() {
  const t = useTranslate();
  const [provider] = useApi(routes.identityProviders.list, {}).data?.data.items ?? [];
  if (provider === undefined) return null;
  return (
    <Panel title={t('provider.title')}>
      <p>{t('provider.joinText', { name: provider.name })}</p>
      <br />
      <LeaveButton
        text={t('provider.join', { name: provider.name })}
        begin={() => callApi(routes.identityProviders.beginJoin, {})}
        returnTo="/account"
      />
    </Panel>
  );
}
