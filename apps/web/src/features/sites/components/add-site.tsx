'use client';

import { routes } from '@repo/contracts';
import { useRouter } from 'next/navigation';
import { FormDialog } from '@/lib/forms';
import { useTranslate } from '@/lib/i18n/i18n';
import { useMay } from '@/lib/session/session';
import { NewSiteForm } from './site-form';

/** For whoever may: adds a site to a customer and goes there. */
export function AddSite({ customerId }: { customerId: string }) {
  const t = useTranslate();
  const router = useRouter();
  const may = useMay();
  if (!may(routes.sites.create)) return null;
  return (
    <FormDialog action={t('sites.add')} title={t('sites.add')}>
      {(close) => (
        <NewSiteForm
          customerId={customerId}
          onDone={(site) => {
            close();
            router.push(`/sites/${site.id}`);
          }}
        />
      )}
    </FormDialog>
  );
}
