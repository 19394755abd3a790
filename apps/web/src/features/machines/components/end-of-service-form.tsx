'use client';

import { routes, type Machine } from '@repo/contracts';
import { useMemo } from 'react';
import { callApi } from '@/lib/api/client';
import { useApi, useApiChange } from '@/lib/api/hooks';
import { choice, day, RecordForm, useRecordForm } from '@/lib/forms';
import { useTranslate } from '@/lib/i18n/i18n';
import { LoadedForForm } from '@/lib/states';
import { Notice } from '@/ui/notice';
import { DISPOSITIONS } from '../machine-fields';

function Shown({ machine, etag, onDone }: { machine: Machine; etag: string | null; onDone: () => void }) {
  const t = useTranslate();
  const params = { id: machine.id };
  const fields = useMemo(
    () => ({
      disposition: choice({
        label: 'machine.disposition',
        choices: DISPOSITIONS.map((value) => ({ value, label: t(`machine.disposition.${value}`) })),
      }),
      dispositionOn: day({ label: 'machine.dispositionOn' }),
    }),
    [t],
  );
  const form = useRecordForm({
    name: `machine-end-${machine.id}`,
    fields,
    initial: machine,
    etag,
    readAgain: () => callApi(routes.machines.get, { params }),
    check: ({ disposition, dispositionOn }) =>
      disposition !== 'in-service' && dispositionOn === null
        ? [{ field: 'dispositionOn', text: t('fieldProblem.missing', { label: t('machine.dispositionOn') }) }]
        : [],
  });
  const change = useApiChange(routes.machines.update, {
    onDone: form.clearThen(onDone),
  });
  const chosen = DISPOSITIONS.find((value) => value === form.drafts.disposition) ?? 'in-service';
  return (
    <RecordForm
      form={form}
      groups={[{ fields: ['disposition', 'dispositionOn'] }]}
      label={t('machine.end')}
      cautions={chosen === 'in-service' ? [] : [t('caution.lockOut'), t('caution.bothLines')]}
      submitText={t('machine.endSave')}
      isPending={change.isPending}
      onSubmit={(values) =>
        change.mutate(
          {
            params,
            etag: form.etag,
            body: values.disposition === 'in-service' ? { ...values, dispositionOn: null } : values,
          },
          { onError: form.takeFailure },
        )
      }
    >
      <Notice role="status">{t(`machine.endMeans.${chosen}`)}</Notice>
    </RecordForm>
  );
}

/** Sold, decommissioned or moved away: from which day, and what that means. */
export function EndOfServiceForm({ machineId, onDone }: { machineId: string; onDone: () => void }) {
  const query = useApi(routes.machines.get, { params: { id: machineId } });
  return (
    <LoadedForForm query={query}>
      {({ data, etag }) => <Shown machine={data} etag={etag} onDone={onDone} />}
    </LoadedForForm>
  );
}
