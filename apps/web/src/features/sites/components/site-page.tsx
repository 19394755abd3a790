'use client';

import { routes } from '@repo/contracts';
import type { ReactNode } from 'react';
import { useApi } from '@/lib/api/hooks';
import { useTranslate } from '@/lib/i18n/i18n';
import { Loaded } from '@/lib/states';
import { Facts, PageHead, Sheet } from '@/ui/sheet';
import { MainAndAside } from '@/ui/stack';

/** 2026-11-23 was a Monday: from there every weekday has its name. */
const MONDAY_MS = Date.UTC(2026, 10, 23);

/** One site: what stands there, and when one may come. */
export function SitePage({ siteId, machines }: { siteId: string; machines: ReactNode }) {
  const t = useTranslate();
  const query = useApi(routes.sites.get, { params: { id: siteId } });
  const weekday = (day: number): string =>
    new Intl.DateTimeFormat(t.languageTag, { weekday: 'long', timeZone: 'UTC' }).format(
      new Date(MONDAY_MS + (day - 1) * 86_400_000),
    );
  return (
    <Loaded isPage query={query}>
      {({ data: site }) => (
        <>
          <PageHead
            crumbsLabel={t('nav.crumbs')}
            crumbs={[{ name: site.customerName, href: `/customers/${site.customerId}` }]}
            title={t('sites.title', { name: site.name, place: site.place })}
            under={[site.address, site.country].filter((part) => part !== '').join(', ')}
          />
          <MainAndAside
            main={<Sheet title={t('machine.machines')}>{machines}</Sheet>}
            aside={
              <Sheet title={t('sites.access')} note={site.timeZone}>
                {site.accessWindows.length === 0 ? (
                  <p>{t('sites.noAccess')}</p>
                ) : (
                  <Facts
                    rows={site.accessWindows.map((window) => ({
                      key: `${window.weekday}${window.from}`,
                      name: weekday(window.weekday),
                      value: `${window.from}–${window.to}`,
                    }))}
                  />
                )}
                {site.note === '' ? null : <p>{site.note}</p>}
              </Sheet>
            }
          />
        </>
      )}
    </Loaded>
  );
}
