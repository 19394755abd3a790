'use client';

import { routes, type CircuitOverview, type SetupRecord } from '@repo/contracts';
import { useApiChange } from '@/lib/api/hooks';
import { area, choice, day, moment, RecordForm, text, useRecordForm } from '@/lib/forms';
import { useTranslate, type Translate } from '@/lib/i18n/i18n';
import type { PressureUnit } from '@/lib/quantity/format';
import type { QuantityDraft } from '@/lib/quantity/quantity-draft';
import { usePressureUnit } from '@/lib/quantity/pressure-unit';
import { useSession } from '@/lib/session/session';
import { listDoubts, noteOf, toCompared, type Compared } from '../doubts';
import {
  listContradictions,
  NOTHING_MEASURED,
  toMeasuredFields,
  toMeasuredValues,
  toSettingFields,
  toSettingValues,
} from '../forms';
import { MEASURED_FIELDS, SETTING_FIELDS, TIME_FIELDS } from '../setting-names';
import { sayWhatTimeProves } from '../time-proofs';

type Circuit = CircuitOverview['circuit'];

/** Accuracy classes of EN 837-1. */
const GAUGE_CLASSES = ['', '0.1', '0.25', '0.6', '1', '1.6', '2.5', '4'] as const;
type GaugeClass = (typeof GAUGE_CLASSES)[number];

const OTHER_READINGS = MEASURED_FIELDS.filter((field) => !TIME_FIELDS.some((time) => time === field));
const GROUPS = [
  { fields: SETTING_FIELDS },
  { title: 'settings.times', fields: TIME_FIELDS },
  { fields: [...OTHER_READINGS, 'gaugeClass', 'gaugeIdentity', 'gaugeCalibratedOn', 'gaugeCalibrationDueOn'] },
  { fields: ['reportName', 'measuredByName', 'measuredAt'] },
  { fields: ['reason'] },
] as const;

/** Target and former reading stand beside each field; they are never put into it, since nobody has read them now. */
function withNotes(unit: PressureUnit, compared: Compared, circuit: Circuit, t: Translate) {
  const fields = { ...toSettingFields(unit), ...toMeasuredFields(unit) };
  const noted = Object.entries(fields).map(([name, def]) => {
    const field = name as keyof typeof fields;
    const note = (draft: QuantityDraft): string | undefined => {
      const reading = def.read(draft);
      const notes = [
        sayWhatTimeProves(field, circuit, t),
        noteOf(field, reading.ok ? reading.value : null, compared, unit, t),
      ];
      return notes.filter((one) => one !== undefined).join(' ') || undefined;
    };
    return [name, { ...def, note }];
  });
  return Object.fromEntries(noted) as typeof fields;
}

const toFields = (
  unit: PressureUnit,
  timeZone: string,
  compared: Compared,
  circuit: Circuit,
  isCorrection: boolean,
  t: Translate,
) => ({
  ...withNotes(unit, compared, circuit, t),
  gaugeClass: choice<GaugeClass>({
    label: 'settings.gaugeClass',
    choices: GAUGE_CLASSES.map((value) => ({ value, label: value === '' ? t('settings.notStated') : value })),
  }),
  gaugeIdentity: text({ label: 'settings.gaugeIdentity' }),
  gaugeCalibratedOn: day({ label: 'settings.gaugeCalibratedOn' }),
  gaugeCalibrationDueOn: day({ label: 'settings.gaugeCalibrationDueOn' }),
  reportName: text({ label: 'settings.reportName', isRequired: true }),
  measuredByName: text({ label: 'settings.measuredByName', isRequired: true }),
  measuredAt: moment({ label: 'settings.measuredAt', hint: 'form.emptyIsNow', timeZone }),
  reason: area({
    label: 'settings.reason',
    isRequired: true,
    ...(isCorrection ? { hint: 'settings.correctHint' as const } : {}),
  }),
});

const toGaugeClass = (text: string): GaugeClass => GAUGE_CLASSES.find((value) => value === text) ?? '';

/** Nothing is read yet, and no gauge is named until somebody names it. */
const toBlank = (measuredByName: string) => ({
  ...toSettingValues(null),
  ...NOTHING_MEASURED,
  gaugeClass: toGaugeClass(''),
  gaugeIdentity: '',
  gaugeCalibratedOn: null,
  gaugeCalibrationDueOn: null,
  reportName: '',
  measuredByName,
  measuredAt: new Date().toISOString(),
  reason: '',
});

const toWhatWasRead = (record: SetupRecord) => ({
  ...toSettingValues(record),
  ...toMeasuredValues(record),
  gaugeClass: toGaugeClass(record.gaugeClass),
  gaugeIdentity: record.gaugeIdentity,
  gaugeCalibratedOn: record.gaugeCalibratedOn,
  gaugeCalibrationDueOn: record.gaugeCalibrationDueOn,
  reportName: record.reportName,
  measuredByName: record.measuredByName,
  measuredAt: record.measuredAt,
  reason: '',
});

/** As-left values from a named report: what was measured, with which gauge, by whom. */
export function AsLeftForm({
  overview,
  corrects = null,
  timeZone,
  onDone,
}: {
  overview: CircuitOverview;
  /** a record whose readings were wrong: its values are there to be set right */
  corrects?: SetupRecord | null;
  timeZone: string;
  onDone: () => void;
}) {
  const t = useTranslate();
  const { unit } = usePressureUnit();
  const { me } = useSession();
  const { circuit, asLeft } = overview;
  const compared = toCompared(overview);
  const form = useRecordForm({
    name: corrects === null ? `as-left:${circuit.id}` : `as-left-correct:${corrects.id}`,
    fields: toFields(unit, timeZone, compared, circuit, corrects !== null, t),
    check: (values) => listContradictions(values, t),
    initial: corrects === null ? toBlank(me.displayName) : toWhatWasRead(corrects),
  });
  const record = useApiChange(routes.setupRecords.create, { onDone: form.clearThen(onDone) });
  const revision = asLeft?.revision ?? 0;
  return (
    <RecordForm
      form={form}
      groups={GROUPS}
      label={t(corrects === null ? 'settings.enterAsLeft' : 'settings.correctAsLeft')}
      cautions={[t('caution.lockOut'), t('caution.bothLines'), t('caution.skin'), t('caution.pinch')]}
      submitText={t('settings.recordRevision', { revision: revision + 1 })}
      isPending={record.isPending}
      // The wrong reading is nothing to compare the right one with.
      question={(values) => listDoubts(values, corrects === null ? compared : { ...compared, former: null }, unit, t)}
      onSubmit={({ setting, measuredAt, ...values }) => {
        if (setting === null) return;
        const attempt = form.takeAttempt();
        record.mutate(
          {
            idempotencyKey: attempt.key,
            body: {
              ...values,
              setting,
              measuredAt: measuredAt ?? attempt.at,
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
