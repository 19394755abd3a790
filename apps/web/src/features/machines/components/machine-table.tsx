'use client';

import { routes } from '@repo/contracts';
import { Link } from '@/ui/link';
import { useApiPages } from '@/lib/api/hooks';
import { useTranslate } from '@/lib/i18n/i18n';
import { FailedNote } from '@/lib/states';
import { ListEnd } from '@/lib/list-end';
import { LoadingNote, StateNote } from '@/ui/notice';
import { Table } from '@/ui/table';

/** Machines of a customer or of a site. */
export function MachineTable({ customerId, siteId }: { customerId?: string; siteId?: string }) {
  const t = useTranslate();
  const { query, items } = useApiPages(routes.machines.list, {
    query: {
      limit: 100,
      ...(customerId === undefined ? {} : { customerId }),
      ...(siteId === undefined ? {} : { siteId }),
    },
  });
  if (query.error !== null && items.length === 0)
    return <FailedNote error={query.error} onRetry={() => void query.refetch()} />;
  if (query.isPending) return <LoadingNote text={t('state.loading')} />;
  if (items.length === 0) return <StateNote title={t('machine.noneHere')}>{t('machine.noneHereText')}</StateNote>;
  return (
    <>
      <Table
        caption={t('machine.machines')}
        rows={items}
        rowKey={(machine) => machine.id}
        columns={[
          {
            key: 'name',
            title: t('machine.name'),
            isName: true,
            cell: (machine) => <Link href={`/machines/${machine.id}`}>{machine.name}</Link>,
          },
          { key: 'model', title: t('machine.model'), cell: (machine) => machine.model || machine.description },
          { key: 'serial', title: t('machine.serial'), cell: (machine) => machine.serial || '–' },
          { key: 'site', title: t('machine.site'), cell: (machine) => `${machine.siteName}, ${machine.place}` },
          {
            key: 'disposition',
            title: t('machine.disposition'),
            cell: (machine) => t(`machine.disposition.${machine.disposition}`),
          },
        ]}
      />
      <ListEnd query={query} />
    </>
  );
}
