'use client';

import { routes, type Customer, type Site } from '@repo/contracts';
import { Link } from '@/ui/link';
import type { ReactNode } from 'react';
import { useApi, useApiPages } from '@/lib/api/hooks';
import { FormDialog } from '@/lib/forms';
import { useTranslate } from '@/lib/i18n/i18n';
import { useMay } from '@/lib/session/session';
import { Loaded } from '@/lib/states';
import { ButtonLink } from '@/ui/button';
import { Facts, PageHead, Panel } from '@/ui/panel';
import { MainAndAside } from '@/ui/stack';
import { ChangeCustomerForm } from './customer-form';
import { CircuitCounts } from './customers-page';

/** How its circuits stand, its sites, whom to call. */
function CustomerAside({
  customer,
  sites,
  addSite,
}: {
  customer: Customer;
  sites: readonly Site[];
  addSite: ReactNode;
}) {
  const t = useTranslate();
  return (
    <>
      <Panel title={t('fleet.standing')}>
        <CircuitCounts customer={customer} />
      </Panel>
      <Panel title={t('customers.sites')}>
        {sites.length === 0 ? <p>{t('customers.noSites')}</p> : null}
        <Facts
          rows={sites.map((site) => ({
            key: site.id,
            name: <Link href={`/sites/${site.id}`}>{site.name}</Link>,
            value: `${site.place}${site.country === '' ? '' : `, ${site.country}`}`,
          }))}
        />
        {addSite}
      </Panel>
      <Panel title={t('customers.contact')}>
        <Facts
          rows={[
            { name: t('customers.person'), value: customer.contactName || '–' },
            { name: t('customers.email'), value: customer.contactEmail || '–' },
            { name: t('customers.phone'), value: customer.contactPhone || '–' },
            ...(customer.note === '' ? [] : [{ name: t('customers.note'), value: customer.note }]),
          ]}
        />
      </Panel>
    </>
  );
}

/** One customer: how its circuits stand, its machines, its sites, whom to call. */
export function CustomerPage({
  customerId,
  machines,
  addSite,
  fixtures,
}: {
  customerId: string;
  machines: ReactNode;
  addSite: ReactNode;
  fixtures: ReactNode;
}) {
  const t = useTranslate();
  const may = useMay();
  const query = useApi(routes.customers.get, { params: { id: customerId } });
  const { items: sites } = useApiPages(routes.sites.list, { query: { customerId, limit: 100 } });
  return (
    <Loaded isPage query={query}>
      {({ data: customer, etag }) => {
        const need = ['fails', 'marginal', 'unproven'].reduce((sum, key) => sum + (customer.circuits[key] ?? 0), 0);
        return (
          <>
            <PageHead
              crumbsLabel={t('nav.crumbs')}
              crumbs={[{ name: t('nav.customers'), href: '/customers' }]}
              title={
                Object.keys(customer.circuits).length === 0
                  ? t('customers.noCircuits', { name: customer.name })
                  : need === 0
                    ? t('customers.right', { name: customer.name })
                    : t('customers.need', { count: need, name: customer.name })
              }
              under={customer.trade}
              actions={
                <>
                  <ButtonLink href={`/fleet?customer=${customer.id}`}>{t('customers.showCircuits')}</ButtonLink>
                  {may(routes.customers.update) ? (
                    <FormDialog action={t('customers.change')} title={t('customers.changeOf', { name: customer.name })}>
                      {(close) => <ChangeCustomerForm customer={customer} etag={etag} onDone={close} />}
                    </FormDialog>
                  ) : null}
                </>
              }
            />
            <MainAndAside
              main={
                <>
                  <Panel title={t('machine.machines')}>{machines}</Panel>
                  {fixtures}
                </>
              }
              aside={<CustomerAside customer={customer} sites={sites} addSite={addSite} />}
            />
          </>
        );
      }}
    </Loaded>
  );
}
