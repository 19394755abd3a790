'use client';

import { routes, type CircuitOverview } from '@repo/contracts';
import { useApiChange } from '@/lib/api/hooks';
import { useDraft } from '@/lib/drafts/use-draft';
import { useFormErrors } from '@/lib/forms/use-form-errors';
import { useTranslate } from '@/lib/i18n/i18n';
import { createId } from '@/lib/ids';
import { WayOut } from '@/lib/pressure-ladder/sentences';
import { usePressureUnit } from '@/lib/quantity/pressure-unit';
import { Button } from '@/ui/button';
import { ErrorSummary, Form, FormActions, TextArea } from '@/ui/field';
import { Caution, Notice } from '@/ui/notice';
import { readQuantities, SETTING_FIELDS, toQuantityDraft, type SettingField } from '../forms';
import { SettingFields, type SettingDrafts } from './setting-fields';

/** An engineer releases a new revision of the target settings, starting from the newest. */
export function TargetForm({ overview, onDone }: { overview: CircuitOverview; onDone: () => void }) {
  const t = useTranslate();
  const { unit } = usePressureUnit();
  const { circuit, target, asLeft, ladder } = overview;
  const from = target ?? asLeft;
  const initial: SettingDrafts & { id: string; reason: string } = {
    ...(Object.fromEntries(
      SETTING_FIELDS.map((field) => [field, toQuantityDraft(from?.[field], unit)]),
    ) as SettingDrafts),
    id: createId(),
    reason: '',
  };
  const { draft, setDraft, clearDraft, isRestored } = useDraft(`target:${circuit.id}`, initial);
  const labels = {
    ...Object.fromEntries(SETTING_FIELDS.map((field) => [field, t(`settings.${field}`)])),
    reason: t('settings.reason'),
  };
  const form = useFormErrors('target', labels);
  const change = (part: Partial<typeof draft>): void => {
    setDraft(part);
    for (const field of Object.keys(part)) form.settle(field);
  };
  const release = useApiChange(routes.targetSettings.release, {
    onDone: () => {
      clearDraft({ ...initial, id: createId() });
      onDone();
    },
  });

  const submit = (): void => {
    const { quantities, problems } = readQuantities(draft, SETTING_FIELDS);
    const found = problems.map(({ field, code }) => ({
      field: field as string,
      text:
        t.find(`fieldProblem.${code}`, { label: t(`settings.${field}`) }) ??
        t('fieldProblem.not-a-number', { label: t(`settings.${field}`) }),
    }));
    const setting = quantities.setting;
    if (setting === null && problems.length === 0)
      found.push({ field: 'setting', text: t('fieldProblem.missing', { label: t('settings.setting') }) });
    if (draft.reason.trim() === '')
      found.push({ field: 'reason', text: t('fieldProblem.missing', { label: t('settings.reason') }) });
    if (form.refuse(found) || setting === null) return;
    release.mutate(
      {
        body: {
          ...quantities,
          setting,
          id: draft.id,
          circuitId: circuit.id,
          reason: draft.reason.trim(),
          afterRevision: target?.revision ?? 0,
        },
      },
      { onError: form.takeFailure },
    );
  };

  const setField = (field: SettingField, value: SettingDrafts[SettingField]): void => change({ [field]: value });
  return (
    <Form onSubmit={submit} label={t('settings.releaseTarget')}>
      <ErrorSummary title={t('form.problem')} summary={form.summary} />
      {isRestored ? <Notice role="status">{t('form.restored')}</Notice> : null}
      <Caution title={t('caution.title')} lines={[t('caution.target'), t('caution.judgement')]} />
      <p>
        <WayOut ladder={ladder} />
      </p>
      <SettingFields drafts={draft} onChange={setField} idOf={form.idOf} errorOf={form.errorOf} />
      <TextArea
        id={form.idOf('reason')}
        label={t('settings.reason')}
        hint={t('settings.reasonHint')}
        error={form.errorOf('reason')}
        value={draft.reason}
        onChange={(reason) => change({ reason })}
      />
      <FormActions>
        <Button look="strong" type="submit" disabled={release.isPending}>
          {t('settings.releaseRevision', { revision: (target?.revision ?? 0) + 1 })}
        </Button>
        <Button look="plain" onClick={() => clearDraft({ ...initial, id: createId() })}>
          {t('form.discard')}
        </Button>
      </FormActions>
    </Form>
  );
}
