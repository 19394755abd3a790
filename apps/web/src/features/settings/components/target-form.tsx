'use client';

import { isRight } from '@repo/calc/checks';
import { routes, type CircuitOverview } from '@repo/contracts';
import { useApiChange } from '@/lib/api/hooks';
import { area, RecordForm, useRecordForm } from '@/lib/forms';
import { useTranslate } from '@/lib/i18n/i18n';
import { WayOut } from '@/lib/pressure-ladder/way-out';
import { usePressureUnit } from '@/lib/quantity/pressure-unit';
import { listDoubts, toCompared } from '../doubts';
import { listSwitchContradictions, toSettingFields, toSettingValues } from '../forms';
import { SETTING_FIELDS } from '../setting-names';

/** An engineer releases a new revision of the target settings, starting from the newest. */
export function TargetForm({ overview, onDone }: { overview: CircuitOverview; onDone: () => void }) {
  const t = useTranslate();
  const { unit } = usePressureUnit();
  const { circuit, target, asLeft, ladder } = overview;
  const isAllRight = ladder.checks.every(isRight);
  const form = useRecordForm({
    name: `target:${circuit.id}`,
    fields: {
      ...toSettingFields(unit),
      reason: area({ label: 'settings.reason', hint: 'settings.reasonHint', isRequired: true }),
    },
    initial: { ...toSettingValues(target ?? asLeft), reason: '' },
    check: (values) => listSwitchContradictions(values, t),
  });
  const release = useApiChange(routes.targetSettings.release, { onDone: form.clearThen(onDone) });
  const revision = target?.revision ?? 0;
  return (
    <RecordForm
      form={form}
      groups={[{ fields: SETTING_FIELDS }, { fields: ['reason'] }]}
      label={t('settings.releaseTarget')}
      cautions={[t('caution.target'), t('caution.judgement')]}
      submitText={t('settings.releaseRevision', { revision: revision + 1 })}
      isPending={release.isPending}
      question={(values) => listDoubts(values, { ...toCompared(overview), former: null }, unit, t)}
      onSubmit={({ setting, ...values }) => {
        if (setting === null) return;
        release.mutate(
          { body: { ...values, setting, id: form.id, circuitId: circuit.id, afterRevision: revision } },
          { onError: form.takeFailure },
        );
      }}
    >
      <div>{isAllRight ? null : <WayOut circuitId={circuit.id} />}</div>
    </RecordForm>
  );
}
