'use client';

import { routes, type CreatedInvitation, type Invitation } from '@repo/contracts';
import { useState } from 'react';
import { useApiChange, useApiPages } from '@/lib/api/hooks';
import { useDates, useTranslate } from '@/lib/i18n/i18n';
import { ListEnd } from '@/lib/list-end';
import { useProblemText } from '@/lib/states';
import { Button } from '@/ui/button';
import { Dialog } from '@/ui/dialog';
import { Notice } from '@/ui/notice';
import { Panel } from '@/ui/panel';
import { Table, type Column } from '@/ui/table';
import { LinkShown } from './link-shown';

/** Who was invited, and what became of it. */
export function InvitationList() {
  const t = useTranslate();
  const dates = useDates();
  const toText = useProblemText();
  const { query, items } = useApiPages(routes.invitations.list, { query: { limit: 50 } });
  const [made, setMade] = useState<CreatedInvitation | null>(null);
  const renew = useApiChange(routes.invitations.renew, { onDone: ({ data }) => setMade(data) });
  const withdraw = useApiChange(routes.invitations.withdraw);
  const failure = renew.error ?? withdraw.error;
  if (items.length === 0) return null;
  const columns: Column<Invitation>[] = [
    { key: 'name', title: t('account.name'), isName: true, cell: (row) => row.displayName },
    { key: 'email', title: t('signIn.email'), cell: (row) => row.email },
    { key: 'role', title: t('people.role'), cell: (row) => t(`role.${row.role}`) },
    { key: 'by', title: t('people.invitedBy'), cell: (row) => row.createdByName },
    {
      key: 'state',
      title: t('people.invitationState'),
      cell: (row) => t(`people.invitation.${row.state}`, { until: dates.atDay(row.expiresAt) }),
    },
    {
      key: 'actions',
      title: t('table.actions'),
      isActions: true,
      cell: (row) =>
        row.state === 'open' || row.state === 'expired' ? (
          <>
            <Button look="plain" onClick={() => renew.mutate({ params: { id: row.id } })}>
              {t('people.renewLinkOf', { name: row.displayName })}
            </Button>
            {row.state === 'open' ? (
              <Button look="plain" onClick={() => withdraw.mutate({ params: { id: row.id } })}>
                {t('people.withdrawOf', { name: row.displayName })}
              </Button>
            ) : null}
          </>
        ) : (
          ''
        ),
    },
  ];
  return (
    <Panel title={t('people.invitations')}>
      {failure === null ? null : <Notice role="alert">{toText(failure)}</Notice>}
      <Table caption={t('people.invitations')} rows={items} rowKey={(row) => row.id} columns={columns} />
      <ListEnd query={query} />
      <Dialog
        title={t('people.newLink')}
        isOpen={made !== null}
        onClose={() => setMade(null)}
        closeText={t('action.close')}
      >
        {made === null ? null : <LinkShown invitation={made} onDone={() => setMade(null)} />}
      </Dialog>
    </Panel>
  );
}
