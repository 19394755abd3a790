'use client';

import { routes, type SourceDetail } from '@repo/contracts';
import { callApi } from '@/lib/api/client';
import { useApiChange } from '@/lib/api/hooks';
import { number, RecordForm, text, useRecordForm } from '@/lib/forms';
import { useTranslate } from '@/lib/i18n/i18n';

const FIELDS = {
  name: text({ label: 'sources.name', isRequired: true, maxLength: 120 }),
  silentAfterMin: number({
    typedIn: 'min',
    label: 'sources.silentAfter',
    hint: 'sources.silentAfterHint',
    isRequired: true,
    isInteger: true,
    least: 1,
    most: 43_200,
  }),
};
const GROUPS = [{ fields: ['name', 'silentAfterMin'] }] as const;

export function NewSourceForm({ onDone }: { onDone: (secret: string) => void }) {
  const t = useTranslate();
  const form = useRecordForm({
    name: 'source-new',
    fields: FIELDS,
    initial: { name: '', silentAfterMin: 120 as number | null },
  });
  const create = useApiChange(routes.sources.create, {
    onDone: form.clearThen(({ data }) => onDone(data.secret)),
  });
  return (
    <RecordForm
      form={form}
      groups={GROUPS}
      label={t('sources.add')}
      submitText={t('sources.add')}
      isPending={create.isPending}
      onSubmit={({ name, silentAfterMin }) =>
        create.mutate(
          { body: { id: form.id, name, silentAfterS: (silentAfterMin ?? 120) * 60 } },
          { onError: form.takeFailure },
        )
      }
    />
  );
}

const toValues = (source: SourceDetail) => ({
  name: source.name,
  silentAfterMin: Math.round(source.silentAfterS / 60) as number | null,
});

export function ChangeSourceForm({
  source,
  etag,
  onDone,
}: {
  source: SourceDetail;
  etag: string | null;
  onDone: () => void;
}) {
  const t = useTranslate();
  const params = { id: source.id };
  const form = useRecordForm({
    name: `source-${source.id}`,
    fields: FIELDS,
    initial: toValues(source),
    etag,
    readAgain: async () => {
      const answer = await callApi(routes.sources.get, { params });
      return { ...answer, data: toValues(answer.data) };
    },
  });
  const change = useApiChange(routes.sources.update, {
    onDone: form.clearThen(onDone),
  });
  return (
    <RecordForm
      form={form}
      groups={GROUPS}
      label={t('sources.change')}
      submitText={t('action.save')}
      isPending={change.isPending}
      onSubmit={({ name, silentAfterMin }) =>
        change.mutate(
          { params, etag: form.etag, body: { name, silentAfterS: (silentAfterMin ?? 120) * 60 } },
          { onError: form.takeFailure },
        )
      }
    />
  );
}
