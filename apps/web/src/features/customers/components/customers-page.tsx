'use client';

import { routes, type Customer } from '@repo/contracts';
import { Link } from '@/ui/link';
import { useRouter } from 'next/navigation';
import type { ComponentProps } from 'react';
import { ExportButton } from '@/features/exports';
import { useApiPages } from '@/lib/api/hooks';
import { FormDialog } from '@/lib/forms';
import { useTranslate } from '@/lib/i18n/i18n';
import { useMay } from '@/lib/session/session';
import { FailedNote } from '@/lib/states';
import { Status, STATUSES } from '@/lib/status/status';
import { ListEnd } from '@/lib/list-end';
import { LoadingNote, StateNote } from '@/ui/notice';
import { PageHead, Panel } from '@/ui/panel';
import { Table } from '@/ui/table';
import { NewCustomerForm } from './customer-form';

const countNeed = (customer: Customer): number =>
  (customer.circuits['fails'] ?? 0) + (customer.circuits['marginal'] ?? 0) + (customer.circuits['unproven'] ?? 0);

/** What each of a customer's circuits says, without those that hold. */
export function CircuitCounts({ customer }: { customer: Customer }) {
  const t = useTranslate();
  const troubling = STATUSES.filter((status) => status !== 'holds' && (customer.circuits[status] ?? 0) > 0);
  if (Object.values(customer.circuits).every((count) => count === 0)) return t('customers.noCircuit');
  if (troubling.length === 0) return <Status status="holds">{t('customers.allHold')}</Status>;
  return troubling.map((status) => (
    <span key={status}>
      <Status status={status}>
        {customer.circuits[status]} {t(`status.${status}`)}
      </Status>{' '}
    </span>
  ));
}

function AddCustomer({ look }: { look: 'strong' | 'quiet' }) {
  const t = useTranslate();
  const router = useRouter();
  const may = useMay();
  if (!may(routes.customers.create)) return null;
  return (
    <FormDialog look={look} action={t('customers.add')} title={t('customers.add')}>
      {(close) => (
        <NewCustomerForm
          onDone={(customer) => {
            close();
            router.push(`/customers/${customer.id}`);
          }}
        />
      )}
    </FormDialog>
  );
}

/** All that is recorded of customers and of what they have. */
const TABLES: ComponentProps<typeof ExportButton>['tables'] = [
  'customers',
  'sites',
  'machines',
  'stations',
  'power-units',
  'circuits',
  'installed-components',
  'machine-placements',
  'fixtures',
  'fixture-elements',
  'fixture-fittings',
  'operations',
  'ended-operations',
  'target-settings',
  'setup-records',
  'service-events',
];

/** "Whose machines need us?" */
export function CustomersPage() {
  const t = useTranslate();
  const { query, items } = useApiPages(routes.customers.list, { query: { limit: 100 } });
  const inNeed = items.filter((customer) => countNeed(customer) > 0).length;
  return (
    <>
      <PageHead
        title={
          query.isSuccess && items.length > 0
            ? t('customers.title.need', { count: inNeed, total: items.length })
            : t('nav.customers')
        }
        actions={
          items.length === 0 ? undefined : (
            <>
              <ExportButton tables={TABLES} />
              <AddCustomer look="quiet" />
            </>
          )
        }
      />
      {query.error !== null && items.length === 0 ? (
        <FailedNote error={query.error} onRetry={() => void query.refetch()} />
      ) : null}
      {query.isPending ? <LoadingNote text={t('state.loading')} /> : null}
      {query.isSuccess && items.length === 0 ? (
        <StateNote title={t('customers.empty')} actions={<AddCustomer look="strong" />}>
          {t('customers.emptyText')}
        </StateNote>
      ) : null}
      {items.length === 0 ? null : (
        <Panel label={t('nav.customers')}>
          <Table
            caption={t('nav.customers')}
            rows={items}
            rowKey={(customer) => customer.id}
            columns={[
              {
                key: 'name',
                title: t('customers.name'),
                isName: true,
                cell: (customer) => <Link href={`/customers/${customer.id}`}>{customer.name}</Link>,
              },
              { key: 'trade', title: t('customers.trade'), cell: (customer) => customer.trade || '–' },
              {
                key: 'circuits',
                title: t('customers.circuits'),
                isNumber: true,
                cell: (customer) => Object.values(customer.circuits).reduce((sum, count) => sum + count, 0),
              },
              {
                key: 'standing',
                title: t('fleet.standing'),
                cell: (customer) => <CircuitCounts customer={customer} />,
              },
            ]}
          />
          <ListEnd query={query} />
        </Panel>
      )}
    </>
  );
}
