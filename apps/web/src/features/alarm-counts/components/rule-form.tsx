'use client';

import { routes, type AlarmRule } from '@repo/contracts';
import { useApiChange } from '@/lib/api/hooks';
import { check, choice, number, RecordForm, text, useRecordForm } from '@/lib/forms';
import { useTranslate, type Translate } from '@/lib/i18n/i18n';
import { WINDOWS } from '../rule-words';

const toFields = (t: Translate, windowS: string) => ({
  threshold: number({ label: 'rule.threshold', isRequired: true, isInteger: true, least: 1, most: 1_000_000 }),
  windowS: choice<string>({
    label: 'rule.window',
    choices: [
      ...WINDOWS.map(({ value, key }) => ({ value: value as string, label: t(`rule.window.${key}`) })),
      // A window that was set elsewhere stays one of the choices.
      ...(WINDOWS.some(({ value }) => value === windowS)
        ? []
        : [{ value: windowS, label: t('rule.window.other', { hours: Math.round(Number(windowS) / 360) / 10 }) }]),
    ],
  }),
  alarmKind: text({ label: 'rule.kind', hint: 'rule.kindHint', maxLength: 60 }),
  isOn: check({ label: 'rule.isOn' }),
});
const GROUPS = [{ fields: ['threshold', 'windowS', 'alarmKind', 'isOn'] }] as const;

const toBody = (values: { threshold: number | null; windowS: string; alarmKind: string; isOn: boolean }) => ({
  threshold: values.threshold ?? 1,
  windowS: Number(values.windowS),
  alarmKind: values.alarmKind === '' ? null : values.alarmKind,
  isOn: values.isOn,
});

export function NewRuleForm({ circuitId, onDone }: { circuitId: string | null; onDone: () => void }) {
  const t = useTranslate();
  const form = useRecordForm({
    name: `rule-new-${circuitId ?? 'all'}`,
    fields: toFields(t, '86400'),
    initial: { threshold: 5, windowS: '86400', alarmKind: '', isOn: true },
  });
  const create = useApiChange(routes.alarmRules.create, {
    onDone: form.clearThen(onDone),
  });
  return (
    <RecordForm
      form={form}
      groups={GROUPS}
      label={t('rule.title')}
      submitText={t('action.save')}
      isPending={create.isPending}
      onSubmit={(values) =>
        create.mutate({ body: { id: form.id, circuitId, ...toBody(values) } }, { onError: form.takeFailure })
      }
    />
  );
}

export function ChangeRuleForm({ rule, onDone }: { rule: AlarmRule; onDone: () => void }) {
  const t = useTranslate();
  const form = useRecordForm({
    name: `rule-${rule.id}-${rule.version}`,
    fields: toFields(t, String(rule.windowS)),
    initial: {
      threshold: rule.threshold as number | null,
      windowS: String(rule.windowS),
      alarmKind: rule.alarmKind ?? '',
      isOn: rule.isOn,
    },
    etag: `"v${rule.version}"`,
  });
  const change = useApiChange(routes.alarmRules.update, {
    onDone: form.clearThen(onDone),
  });
  return (
    <RecordForm
      form={form}
      groups={GROUPS}
      label={t('rule.change')}
      submitText={t('action.save')}
      isPending={change.isPending}
      onSubmit={(values) =>
        change.mutate({ params: { id: rule.id }, etag: form.etag, body: toBody(values) }, { onError: form.takeFailure })
      }
    />
  );
}
