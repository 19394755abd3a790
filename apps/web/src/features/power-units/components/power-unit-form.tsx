'use client';

import { POWER_UNIT_FIGURES } from '@repo/calc/figures';
import { routes, type PowerUnit } from '@repo/contracts';
import { toSi } from '@repo/quantity';
import { useMemo } from 'react';
import { callApi } from '@/lib/api/client';
import { useApi, useApiChange } from '@/lib/api/hooks';
import {
  area,
  blankFigures,
  choice,
  figureFields,
  groupFigures,
  listFieldDoubts,
  RecordForm,
  text,
  useRecordForm,
} from '@/lib/forms';
import { useTranslate } from '@/lib/i18n/i18n';
import { usePressureUnit } from '@/lib/quantity/pressure-unit';
import { LoadedForForm } from '@/lib/states';

const GROUPS = groupFigures(POWER_UNIT_FIGURES, {
  main: { before: ['name', 'drive'], after: ['note'] },
  oil: { title: 'powerUnit.oil', isFolded: true },
});

/** Whoever exchanges the two would learn of it only from a proof that makes no sense. */
function useAirCheck() {
  const t = useTranslate();
  return ({ plantAirLow: low, plantAirHigh: high }: Pick<PowerUnit, 'plantAirLow' | 'plantAirHigh'>) =>
    low !== null && high !== null && toSi(low.value, low.unit, 'pressure') > toSi(high.value, high.unit, 'pressure')
      ? [{ field: 'plantAirLow', text: t('powerUnit.airOrder') }]
      : [];
}

function useFields() {
  const t = useTranslate();
  const { unit } = usePressureUnit();
  return useMemo(
    () => ({
      name: text({ label: 'powerUnit.name', hint: 'powerUnit.nameHint', isRequired: true, maxLength: 120 }),
      drive: choice({
        label: 'powerUnit.drive',
        choices: [
          { value: 'air', label: t('powerUnit.drive.air') },
          { value: 'electric', label: t('powerUnit.drive.electric') },
        ],
      }),
      ...figureFields('powerUnit', POWER_UNIT_FIGURES, { t, pressureUnit: unit, unsaid: t('value.notKnown') }),
      note: area({ label: 'customers.note' }),
    }),
    [t, unit],
  );
}

export function NewPowerUnitForm({ machineId, onDone }: { machineId: string; onDone: () => void }) {
  const t = useTranslate();
  const { unit: pageUnit } = usePressureUnit();
  const fields = useFields();
  const form = useRecordForm({
    name: `power-unit-new-${machineId}`,
    fields,
    check: useAirCheck(),
    initial: {
      name: t('powerUnit.usualName'),
      drive: 'air',
      ...blankFigures(POWER_UNIT_FIGURES),
      note: '',
    },
  });
  const create = useApiChange(routes.powerUnits.create, {
    onDone: form.clearThen(onDone),
  });
  return (
    <RecordForm
      form={form}
      groups={GROUPS}
      label={t('powerUnit.add')}
      submitText={t('powerUnit.add')}
      isPending={create.isPending}
      question={(values) => listFieldDoubts(fields, values, null, pageUnit, t)}
      onSubmit={(values) =>
        create.mutate({ body: { id: form.id, machineId, ...values } }, { onError: form.takeFailure })
      }
    />
  );
}

function ChangeForm({ unit, etag, onDone }: { unit: PowerUnit; etag: string | null; onDone: () => void }) {
  const t = useTranslate();
  const { unit: pageUnit } = usePressureUnit();
  const fields = useFields();
  const params = { id: unit.id };
  const form = useRecordForm({
    name: `power-unit-${unit.id}`,
    fields,
    check: useAirCheck(),
    initial: unit,
    etag,
    readAgain: () => callApi(routes.powerUnits.get, { params }),
  });
  const change = useApiChange(routes.powerUnits.update, {
    onDone: form.clearThen(onDone),
  });
  return (
    <RecordForm
      form={form}
      groups={GROUPS}
      label={t('powerUnit.change')}
      cautions={[t('caution.powerUnit')]}
      submitText={t('action.save')}
      isPending={change.isPending}
      question={(values) => listFieldDoubts(fields, values, unit, pageUnit, t)}
      onSubmit={(_values, changed) =>
        change.mutate({ params, etag: form.etag, body: changed }, { onError: form.takeFailure })
      }
    />
  );
}

export function ChangePowerUnitForm({ unitId, onDone }: { unitId: string; onDone: () => void }) {
  const query = useApi(routes.powerUnits.get, { params: { id: unitId } });
  return (
    <LoadedForForm query={query}>
      {({ data, etag }) => <ChangeForm unit={data} etag={etag} onDone={onDone} />}
    </LoadedForForm>
  );
}
