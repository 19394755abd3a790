'use client';

import { routes, type Membership } from '@repo/contracts';
import { ExportButton } from '@/features/exports';
import { useApiPages } from '@/lib/api/hooks';
import { FormDialog } from '@/lib/forms';
import { useDates, useTranslate } from '@/lib/i18n/i18n';
import { useMay } from '@/lib/session/session';
import { FailedNote } from '@/lib/states';
import { MoreButton } from '@/lib/more-button';
import { LoadingNote } from '@/ui/notice';
import { PageHead, Sheet } from '@/ui/sheet';
import { Table, type Column } from '@/ui/table';
import { ChangePersonForm, NewPersonForm } from './person-form';

/** Who works here, who of a customer may look in, and as what. */
export function PeoplePage() {
  const t = useTranslate();
  const dates = useDates();
  const may = useMay();
  const { query, items } = useApiPages(routes.users.listMemberships, { query: { limit: 100 } });
  const active = items.filter((person) => person.archivedAt === null).length;
  const columns: Column<Membership>[] = [
    { key: 'name', title: t('account.name'), isName: true, cell: (row) => row.displayName },
    { key: 'role', title: t('people.role'), cell: (row) => t(`role.${row.role}`) },
    { key: 'customer', title: t('fleet.customer'), cell: (row) => row.customerName ?? '–' },
    { key: 'since', title: t('account.since'), cell: (row) => dates.atDay(row.createdAt) },
    {
      key: 'standing',
      title: t('people.standing'),
      cell: (row) =>
        row.archivedAt === null ? t('people.active') : t('people.endedOn', { date: dates.atDay(row.archivedAt) }),
    },
    ...(may(routes.users.updateMembership)
      ? [
          {
            key: 'change',
            title: t('table.actions'),
            isActions: true,
            cell: (row: Membership) => (
              <FormDialog
                look="plain"
                action={t('plant.changeOf', { name: row.displayName })}
                title={t('plant.changeOf', { name: row.displayName })}
              >
                {(close) => <ChangePersonForm id={row.id} onDone={close} />}
              </FormDialog>
            ),
          },
        ]
      : []),
  ];
  return (
    <>
      <PageHead
        title={query.isSuccess && !query.hasNextPage ? t.count('people.title', active) : t('nav.people')}
        under={t('people.under')}
        actions={
          <>
            <ExportButton tables={['memberships']} />
            {may(routes.users.createMembership) ? (
              <FormDialog look="strong" action={t('people.add')} title={t('people.add')}>
                {(close) => <NewPersonForm onDone={close} />}
              </FormDialog>
            ) : null}
          </>
        }
      />
      {query.error !== null && items.length === 0 ? (
        <FailedNote error={query.error} onRetry={() => void query.refetch()} />
      ) : null}
      {query.isPending ? <LoadingNote text={t('state.loading')} /> : null}
      {items.length === 0 ? null : (
        <Sheet label={t('nav.people')}>
          <Table caption={t('nav.people')} rows={items} rowKey={(row) => row.id} columns={columns} />
          <MoreButton query={query} />
        </Sheet>
      )}
    </>
  );
}
