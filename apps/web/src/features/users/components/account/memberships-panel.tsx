'use client';

import { routes } from '@repo/contracts';
import { useQueryClient } from '@tanstack/react-query';
import { useRouter } from 'next/navigation';
import { useApiChange } from '@/lib/api/hooks';
import { useTranslate } from '@/lib/i18n/i18n';
import { useSession } from '@/lib/session/session';
import { Button } from '@/ui/button';
import { Panel } from '@/ui/panel';
import { Table } from '@/ui/table';

/** For whom the account works; one goes on for another without signing in again. */
export function MembershipsPanel() {
  const t = useTranslate();
  const router = useRouter();
  const client = useQueryClient();
  const { me } = useSession();
  const change = useApiChange(routes.users.switchMembership, {
    onDone: () => {
      client.clear();
      router.replace('/');
    },
  });
  return (
    <Panel title={t('account.memberships')}>
      <Table
        caption={t('account.memberships')}
        rows={me.memberships}
        rowKey={(membership) => membership.id}
        columns={[
          { key: 'organisation', title: t('account.organisation'), isName: true, cell: (row) => row.organisationName },
          { key: 'role', title: t('people.role'), cell: (row) => t(`role.${row.role}`) },
          {
            key: 'switch',
            title: t('table.actions'),
            cell: (row) =>
              row.id === me.membership.id ? (
                t('account.thisMembership')
              ) : (
                <Button
                  look="plain"
                  disabled={change.isPending}
                  onClick={() => change.mutate({ body: { membershipId: row.id } })}
                >
                  {t('account.workFor', { organisation: row.organisationName })}
                </Button>
              ),
          },
        ]}
      />
    </Panel>
  );
}
