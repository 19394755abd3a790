'use client';

import { routes, type InstalledComponent } from '@repo/contracts';
import { useMemo } from 'react';
import { useApi, useApiChange } from '@/lib/api/hooks';
import { moment, RecordForm, text, useRecordForm } from '@/lib/forms';
import { useTranslate } from '@/lib/i18n/i18n';
import { Loaded } from '@/lib/states';
import { Notice } from '@/ui/notice';

function Shown({
  component,
  etag,
  timeZone,
  onDone,
}: {
  component: InstalledComponent;
  etag: string | null;
  timeZone: string;
  onDone: () => void;
}) {
  const t = useTranslate();
  const fields = useMemo(
    () => ({
      validTo: moment({ label: 'components.takenOutAt', hint: 'form.emptyIsNow', timeZone }),
      reason: text({ label: 'settings.reason', isRequired: true }),
    }),
    [timeZone],
  );
  const form = useRecordForm({
    name: `take-out-${component.id}`,
    fields,
    initial: { validTo: null, reason: '' },
    etag,
  });
  const remove = useApiChange(routes.installedComponents.remove, {
    onDone: form.clearThen(onDone),
  });
  return (
    <RecordForm
      form={form}
      groups={[{ fields: ['reason', 'validTo'] }]}
      label={t('components.takeOut')}
      cautions={[
        ...(component.kind === 'accumulator' ? [t('caution.accumulator')] : []),
        t('caution.lockOut'),
        t('caution.bothLines'),
        t('caution.skin'),
      ]}
      submitText={t('components.takeOut')}
      isPending={remove.isPending}
      onSubmit={({ validTo, reason }) =>
        remove.mutate(
          {
            params: { id: component.id },
            // What was read when the form opened: whoever exchanged it meanwhile is not overruled.
            etag: etag ?? undefined,
            body: { validTo: validTo ?? new Date().toISOString(), reason },
          },
          { onError: form.takeFailure },
        )
      }
    >
      <Notice>{t('components.takeOutMeans')}</Notice>
    </RecordForm>
  );
}

/** Takes a component out with nothing in its place. */
export function TakeOutForm({ id, timeZone, onDone }: { id: string; timeZone: string; onDone: () => void }) {
  const query = useApi(routes.installedComponents.get, { params: { id } });
  return (
    <Loaded query={query}>
      {({ data, etag }) => <Shown component={data} etag={etag} timeZone={timeZone} onDone={onDone} />}
    </Loaded>
  );
}
