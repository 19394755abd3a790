'use client';

import { routes, type CircuitOverview } from '@repo/contracts';
import { useApiChange } from '@/lib/api/hooks';
import { area, choice, day, moment, RecordForm, text, useRecordForm } from '@/lib/forms';
import { useTranslate, type Translate } from '@/lib/i18n/i18n';
import { usePressureUnit } from '@/lib/quantity/pressure-unit';
import { useSession } from '@/lib/session/session';
import {
  listContradictions,
  MEASURED_FIELDS,
  NOTHING_MEASURED,
  SETTING_FIELDS,
  toMeasuredFields,
  toSettingFields,
  toSettingValues,
} from '../forms';

/** Accuracy classes of EN 837-1. */
const GAUGE_CLASSES = ['', '0.1', '0.25', '0.6', '1', '1.6', '2.5', '4'] as const;
type GaugeClass = (typeof GAUGE_CLASSES)[number];

const GROUPS = [
  { fields: SETTING_FIELDS },
  { fields: [...MEASURED_FIELDS, 'gaugeClass', 'gaugeIdentity', 'gaugeCalibratedOn'] },
  { fields: ['reportName', 'measuredByName', 'measuredAt'] },
  { fields: ['reason'] },
] as const;

const toFields = (unit: string, timeZone: string, t: Translate) => ({
  ...toSettingFields(unit),
  ...toMeasuredFields(unit),
  gaugeClass: choice<GaugeClass>({
    label: 'settings.gaugeClass',
    choices: GAUGE_CLASSES.map((value) => ({ value, label: value === '' ? t('settings.notStated') : value })),
  }),
  gaugeIdentity: text({ label: 'settings.gaugeIdentity' }),
  gaugeCalibratedOn: day({ label: 'settings.gaugeCalibratedOn' }),
  reportName: text({ label: 'settings.reportName', isRequired: true }),
  measuredByName: text({ label: 'settings.measuredByName', isRequired: true }),
  measuredAt: moment({ label: 'settings.measuredAt', hint: 'form.emptyIsNow', timeZone }),
  reason: area({ label: 'settings.reason', isRequired: true }),
});

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
  const form = useRecordForm({
    name: `as-left:${circuit.id}`,
    fields: toFields(unit, timeZone, t),
    check: (values) => listContradictions(values, t),
    initial: {
      ...toSettingValues(null),
      ...NOTHING_MEASURED,
      gaugeClass: '',
      gaugeIdentity: '',
      gaugeCalibratedOn: null,
      reportName: '',
      measuredByName: me.displayName,
      measuredAt: new Date().toISOString(),
      reason: '',
    },
  });
  const record = useApiChange(routes.setupRecords.create, { onDone: form.clearThen(onDone) });
  const revision = asLeft?.revision ?? 0;
  return (
    <RecordForm
      form={form}
      groups={GROUPS}
      label={t('settings.enterAsLeft')}
      cautions={[t('caution.lockOut'), t('caution.bothLines'), t('caution.skin'), t('caution.pinch')]}
      submitText={t('settings.recordRevision', { revision: revision + 1 })}
      isPending={record.isPending}
      onSubmit={({ setting, measuredAt, ...values }) => {
        if (setting === null) return;
        record.mutate(
          {
            body: {
              ...values,
              setting,
              measuredAt: measuredAt ?? new Date().toISOString(),
              id: form.id,
              circuitId: circuit.id,
              afterRevision: revision,
            },
          },
          { onError: form.takeFailure },
        );
      }}
    />
  );
}
