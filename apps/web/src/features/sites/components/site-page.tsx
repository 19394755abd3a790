'use client';

import { routes } from '@repo/contracts';
import type { ReactNode } from 'react';
import { useApi } from '@/lib/api/hooks';
import { FormDialog } from '@/lib/forms';
import { useTranslate } from '@/lib/i18n/i18n';
import { useMay } from '@/lib/session/session';
import { Loaded } from '@/lib/states';
import { Facts, PageHead, Panel } from '@/ui/panel';
import { MainAndAside } from '@/ui/stack';
import { toWeekday } from '../weekdays';
import { ChangeSiteForm } from './site-form';

/** One site: what stands there, and when one may come. */
export function SitePage({
  siteId,
  machines,
  addMachine,
}: {
  siteId: string;
  machines: ReactNode;
  addMachine: ReactNode;
}) {
  const t = useTranslate();
  const may = useMay();
  const query = useApi(routes.sites.get, { params: { id: siteId } });
  return (
    <Loaded isPage query={query}>
      {({ data: site, etag }) => (
        <>
          <PageHead
            crumbsLabel={t('nav.crumbs')}
            crumbs={[{ name: site.customerName, href: `/customers/${site.customerId}` }]}
            title={t('sites.title', { name: site.name, place: site.place })}
            under={[site.address, site.country].filter((part) => part !== '').join(', ')}
            actions={
              <>
                {may(routes.sites.update) ? (
                  <FormDialog action={t('sites.change')} title={t('sites.changeOf', { name: site.name })}>
                    {(close) => <ChangeSiteForm site={site} etag={etag} onDone={close} />}
                  </FormDialog>
                ) : null}
                {addMachine}
              </>
            }
          />
          <MainAndAside
            main={<Panel title={t('machine.machines')}>{machines}</Panel>}
            aside={
              <Panel title={t('sites.access')} note={site.timeZone}>
                {site.accessWindows.length === 0 ? (
                  <p>{t('sites.noAccess')}</p>
                ) : (
                  <Facts
                    rows={site.accessWindows.map((window) => ({
                      key: `${window.weekday}${window.from}`,
                      name: toWeekday(window.weekday, t.languageTag),
                      value: `${window.from}–${window.to}`,
                    }))}
                  />
                )}
                {site.note === '' ? null : <p>{site.note}</p>}
              </Panel>
            }
          />
        </>
      )}
    </Loaded>
  );
}
