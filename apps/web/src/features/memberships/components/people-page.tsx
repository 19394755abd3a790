'use client';

import { routes, type Membership } from '@repo/contracts';
import { ExportButton } from '@/features/exports';
import { useApiPages } from '@/lib/api/hooks';
import { FormDialog } from '@/lib/forms';
import { useDates, useTranslate } from '@/lib/i18n/i18n';
import { useMay } from '@/lib/session/session';
import { FailedNote } from '@/lib/states';
import { ListEnd } from '@/lib/list-end';
import { LoadingNote } from '@/ui/notice';
import { PageHead, Panel } from '@/ui/panel';
import { StackedPanels } from '@/ui/stack';
import { Table, type Column } from '@/ui/table';
import { InvitationList } from './invitation-list';
import { MemberSessions } from './member-sessions';
import { ChangePersonForm, HandOverForm, InviteForm } from './person-form';
import styles from './people.module.css';

/** All that can be done about a person, in one dialog. */
function PersonDialog({ person }: { person: Membership }) {
  const t = useTranslate();
  const { displayName: name } = person;
  return (
    <FormDialog look="plain" action={t('plant.changeOf', { name })} title={t('plant.changeOf', { name })}>
      {(close) => (
        <>
          <ChangePersonForm id={person.id} onDone={close} />
          {person.archivedAt === null ? (
            <>
              <h3 className={styles['part']}>{t('people.sessionsOf', { name })}</h3>
              <MemberSessions id={person.id} name={name} />
              <details className={styles['part']}>
                <summary>{t('people.handOver', { name })}</summary>
                <HandOverForm person={person} onDone={close} />
              </details>
            </>
          ) : null}
        </>
      )}
    </FormDialog>
  );
}

/** Who works here, who of a customer may look in, and as what. */
export function PeoplePage() {
  const t = useTranslate();
  const dates = useDates();
  const may = useMay();
  const { query, items } = useApiPages(routes.memberships.list, { query: { limit: 100 } });
  const active = items.filter((person) => person.archivedAt === null && person.acceptedAt !== null).length;
  const stateOf = ({ archivedAt, acceptedAt }: Membership): string => {
    if (archivedAt !== null) return t('people.endedOn', { date: dates.atDay(archivedAt) });
    return acceptedAt === null ? t('people.waits') : t('people.active');
  };
  const columns: Column<Membership>[] = [
    { key: 'name', title: t('account.name'), isName: true, cell: (row) => row.displayName },
    { key: 'role', title: t('people.role'), cell: (row) => t(`role.${row.role}`) },
    { key: 'customer', title: t('fleet.customer'), cell: (row) => row.customerName ?? '–' },
    { key: 'since', title: t('account.since'), cell: (row) => dates.atDay(row.createdAt) },
    { key: 'state', title: t('people.state'), cell: stateOf },
    ...(may(routes.memberships.update)
      ? [
          {
            key: 'change',
            title: t('table.actions'),
            isActions: true,
            cell: (row: Membership) => <PersonDialog person={row} />,
          },
        ]
      : []),
  ];
  return (
    <>
      <PageHead
        title={query.isSuccess && !query.hasNextPage ? t('people.title', { count: active }) : t('nav.people')}
        under={t('people.under')}
        actions={
          <>
            <ExportButton tables={['memberships']} />
            {may(routes.invitations.create) ? (
              <FormDialog look="strong" action={t('people.add')} title={t('people.add')}>
                {(close) => <InviteForm onDone={close} />}
              </FormDialog>
            ) : null}
          </>
        }
      />
      {query.error !== null && items.length === 0 ? (
        <FailedNote error={query.error} onRetry={() => void query.refetch()} />
      ) : null}
      {query.isPending ? <LoadingNote text={t('state.loading')} /> : null}
      <StackedPanels>
        {items.length === 0 ? null : (
          <Panel label={t('nav.people')}>
            <Table caption={t('nav.people')} rows={items} rowKey={(row) => row.id} columns={columns} />
            <ListEnd query={query} />
          </Panel>
        )}
        {may(routes.invitations.list) ? <InvitationList /> : null}
      </StackedPanels>
    </>
  );
}
