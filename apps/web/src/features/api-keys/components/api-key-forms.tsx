'use client';

import { allRoutes, API_KEY_ROLES, routes, type ApiKey, type CreatedApiKey } from '@repo/contracts';
import { useState } from 'react';
import { useApiChange } from '@/lib/api/hooks';
import { check, checks, choice, RecordForm, text, useRecordForm } from '@/lib/forms';
import { useTranslate, type Translate } from '@/lib/i18n/i18n';
import { ShownOnce } from '@/lib/shown-once';

/** Areas in which a program can do anything at all: those with a route of some role, and none of people, links or keys. */
const AREAS = [
  ...new Set(
    allRoutes
      .filter(
        ({ access, recentProof, job }) =>
          Array.isArray(access) &&
          API_KEY_ROLES.some((role) => access.includes(role)) &&
          recentProof !== true &&
          job !== true,
      )
      .map(({ area }) => area),
  ),
].sort();

export const toAreaName = (t: Translate, area: string): string => t.find(`area.${area}`) ?? area.replaceAll('-', ' ');

export function SecretShown({ apiKey, onDone }: { apiKey: CreatedApiKey; onDone: () => void }) {
  const t = useTranslate();
  return (
    <ShownOnce
      title={t('apiKeys.secretOf', { name: apiKey.name })}
      secret={apiKey.secret}
      copyText={t('apiKeys.copy')}
      closeText={t('action.close')}
      onDone={onDone}
    >
      <p>{t('apiKeys.shownOnce')}</p>
    </ShownOnce>
  );
}

export function NewApiKeyForm({ onDone }: { onDone: () => void }) {
  const t = useTranslate();
  const [made, setMade] = useState<CreatedApiKey | null>(null);
  const form = useRecordForm({
    name: 'api-key-new',
    fields: {
      name: text({ label: 'apiKeys.name', isRequired: true, maxLength: 120 }),
      role: choice({
        label: 'apiKeys.role',
        choices: API_KEY_ROLES.map((value) => ({
          value,
          label: t('people.roleMay', { role: t(`role.${value}`), may: t(`people.may.${value}`) }),
        })),
      }),
      mayWrite: check({ label: 'apiKeys.mayWrite' }),
      areas: checks({
        label: 'apiKeys.areas',
        isRequired: true,
        choices: AREAS.map((value) => ({ value, label: toAreaName(t, value) })),
      }),
    },
    initial: { name: '', role: 'lead', mayWrite: false, areas: [] },
  });
  const create = useApiChange(routes.apiKeys.create);
  if (made !== null) return <SecretShown apiKey={made} onDone={onDone} />;
  return (
    <RecordForm
      form={form}
      groups={[{ fields: ['name', 'role', 'areas', 'mayWrite'] }]}
      label={t('apiKeys.add')}
      submitText={t('apiKeys.make')}
      isPending={create.isPending}
      onSubmit={(values) =>
        create.mutate(
          { body: { id: form.id, ...values, role: values.role as ApiKey['role'], areas: [...values.areas] } },
          {
            onError: form.takeFailure,
            onSuccess: ({ data }) => {
              form.clear();
              setMade(data);
            },
          },
        )
      }
    />
  );
}
