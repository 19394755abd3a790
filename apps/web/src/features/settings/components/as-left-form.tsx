'use client';

import { routes, type CircuitOverview } from '@repo/contracts';
import { useApiChange } from '@/lib/api/hooks';
import { useDraft } from '@/lib/drafts/use-draft';
import { useFormErrors } from '@/lib/forms/use-form-errors';
import { useTranslate } from '@/lib/i18n/i18n';
import { createId } from '@/lib/ids';
import { usePressureUnit } from '@/lib/quantity/pressure-unit';
import { QuantityField, type QuantityDraft } from '@/lib/quantity/quantity-field';
import { useSession } from '@/lib/session/session';
import { fromWallClock, getWallClock } from '@/lib/zoned-day';
import { Button } from '@/ui/button';
import { ErrorSummary, FieldRow, Form, FormActions, SelectField, TextArea, TextField } from '@/ui/field';
import { Caution, Notice } from '@/ui/notice';
import {
  KINDS,
  MEASURED_FIELDS,
  readQuantities,
  SETTING_FIELDS,
  type MeasuredField,
  type SettingField,
} from '../forms';
import { SettingFields, type SettingDrafts } from './setting-fields';

/** Accuracy classes of EN 837-1. */
const GAUGE_CLASSES = ['', '0.1', '0.25', '0.6', '1', '1.6', '2.5', '4'] as const;
type GaugeClass = (typeof GAUGE_CLASSES)[number];
const USUAL_UNITS: Partial<Record<MeasuredField, string>> = {
  clampTime: 's',
  contactTime: 's',
  unclampTime: 's',
  timeTolerance: 's',
  decayDuration: 'min',
  oilTemperature: 'Cel',
};

interface AsLeftDraft extends SettingDrafts, Record<MeasuredField, QuantityDraft> {
  id: string;
  reportName: string;
  reason: string;
  measuredAt: string;
  measuredByName: string;
  gaugeClass: GaugeClass;
  gaugeIdentity: string;
  gaugeCalibratedOn: string;
}

const TEXT_FIELDS = ['reportName', 'reason', 'measuredByName', 'measuredAt'] as const;

function toInitial(unit: string, name: string, timeZone: string): AsLeftDraft {
  const blank = (fields: readonly (SettingField | MeasuredField)[]) =>
    Object.fromEntries(fields.map((field) => [field, { text: '', unit: USUAL_UNITS[field as MeasuredField] ?? unit }]));
  return {
    ...(blank([...SETTING_FIELDS, ...MEASURED_FIELDS]) as SettingDrafts & Record<MeasuredField, QuantityDraft>),
    id: createId(),
    reportName: '',
    reason: '',
    measuredAt: getWallClock(timeZone),
    measuredByName: name,
    gaugeClass: '',
    gaugeIdentity: '',
    gaugeCalibratedOn: '',
  };
}

/** As-left values from a named report: what was measured, with which gauge, by whom. */
export function AsLeftForm({
  overview,
  timeZone,
  onDone,
}: {
  overview: CircuitOverview;
  timeZone: string;
  onDone: () => void;
}) {
  const t = useTranslate();
  const { unit } = usePressureUnit();
  const { me } = useSession();
  const { circuit, asLeft } = overview;
  const { draft, setDraft, clearDraft, isRestored } = useDraft(
    `as-left:${circuit.id}`,
    toInitial(unit, me.displayName, timeZone),
  );
  const names = [
    ...SETTING_FIELDS,
    ...MEASURED_FIELDS,
    ...TEXT_FIELDS,
    'gaugeClass',
    'gaugeIdentity',
    'gaugeCalibratedOn',
  ] as const;
  const labels: Record<string, string> = Object.fromEntries(names.map((field) => [field, t(`settings.${field}`)]));
  const form = useFormErrors('as-left', labels);
  const change = (part: Partial<typeof draft>): void => {
    setDraft(part);
    for (const field of Object.keys(part)) form.settle(field);
  };
  const record = useApiChange(routes.setupRecords.create, {
    onDone: () => {
      clearDraft(toInitial(unit, me.displayName, timeZone));
      onDone();
    },
  });

  const submit = (): void => {
    const { quantities, problems } = readQuantities(draft, [...SETTING_FIELDS, ...MEASURED_FIELDS]);
    const missing = (field: string) => ({ field, text: t('fieldProblem.missing', { label: labels[field] ?? field }) });
    const found = [
      ...problems.map(({ field, code }) => ({
        field: field as string,
        text: t.find(`fieldProblem.${code}`, { label: labels[field] ?? field }) ?? t('problem.unknown'),
      })),
      ...TEXT_FIELDS.filter((field) => draft[field].trim() === '').map(missing),
    ];
    const isUnread = (...fields: string[]): boolean => problems.some(({ field }) => fields.includes(field));
    if (!isUnread('gaugeSpan') && (quantities.gaugeSpan === null) !== (draft.gaugeClass === '')) {
      found.push({ field: 'gaugeClass', text: t('settings.gaugeWhole') });
    }
    if (!isUnread('decay', 'decayDuration') && (quantities.decay === null) !== (quantities.decayDuration === null)) {
      found.push({ field: 'decayDuration', text: t('settings.decayWhole') });
    }
    const { setting } = quantities;
    if (setting === null && !isUnread('setting')) found.push(missing('setting'));
    if (form.refuse(found) || setting === null) return;
    record.mutate(
      {
        body: {
          ...quantities,
          setting,
          id: draft.id,
          circuitId: circuit.id,
          reportName: draft.reportName.trim(),
          reason: draft.reason.trim(),
          measuredByName: draft.measuredByName.trim(),
          measuredAt: fromWallClock(`${draft.measuredAt.slice(0, 16)}:00`, timeZone),
          gaugeClass: draft.gaugeClass,
          gaugeIdentity: draft.gaugeIdentity.trim(),
          gaugeCalibratedOn: draft.gaugeCalibratedOn === '' ? null : draft.gaugeCalibratedOn,
          afterRevision: asLeft?.revision ?? 0,
        },
      },
      { onError: form.takeFailure },
    );
  };

  const text = (field: (typeof TEXT_FIELDS)[number] | 'gaugeIdentity' | 'gaugeCalibratedOn', type = 'text') => (
    <TextField
      id={form.idOf(field)}
      type={type}
      label={labels[field]}
      error={form.errorOf(field)}
      value={draft[field]}
      onChange={(value) => change({ [field]: value })}
    />
  );
  return (
    <Form onSubmit={submit} label={t('settings.enterAsLeft')}>
      <ErrorSummary title={t('form.problem')} summary={form.summary} />
      {isRestored ? <Notice role="status">{t('form.restored')}</Notice> : null}
      <Caution
        title={t('caution.title')}
        lines={[t('caution.lockOut'), t('caution.bothLines'), t('caution.skin'), t('caution.pinch')]}
      />
      <SettingFields
        drafts={draft}
        onChange={(field, value) => change({ [field]: value })}
        idOf={form.idOf}
        errorOf={form.errorOf}
      />
      <FieldRow>
        {MEASURED_FIELDS.map((field) => (
          <QuantityField
            key={field}
            id={form.idOf(field)}
            kind={KINDS[field]}
            label={labels[field] ?? field}
            error={form.errorOf(field)}
            draft={draft[field]}
            onChange={(value) => change({ [field]: value })}
          />
        ))}
        <SelectField
          id={form.idOf('gaugeClass')}
          label={labels['gaugeClass']}
          error={form.errorOf('gaugeClass')}
          value={draft.gaugeClass}
          choices={GAUGE_CLASSES.map((value) => ({ value, label: value === '' ? t('settings.notStated') : value }))}
          onChange={(value) => change({ gaugeClass: GAUGE_CLASSES.find((known) => known === value) ?? '' })}
        />
        {text('gaugeIdentity')}
        {text('gaugeCalibratedOn', 'date')}
      </FieldRow>
      <FieldRow>
        {text('reportName')}
        {text('measuredByName')}
        {text('measuredAt', 'datetime-local')}
      </FieldRow>
      <TextArea
        id={form.idOf('reason')}
        label={t('settings.reason')}
        error={form.errorOf('reason')}
        value={draft.reason}
        onChange={(reason) => change({ reason })}
      />
      <FormActions>
        <Button look="strong" type="submit" disabled={record.isPending}>
          {t('settings.recordRevision', { revision: (asLeft?.revision ?? 0) + 1 })}
        </Button>
        <Button look="plain" onClick={() => clearDraft(toInitial(unit, me.displayName, timeZone))}>
          {t('form.discard')}
        </Button>
      </FormActions>
    </Form>
  );
}
