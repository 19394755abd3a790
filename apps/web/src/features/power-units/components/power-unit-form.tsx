'use client';

import { routes, type PowerUnit } from '@repo/contracts';
import { toSi } from '@repo/quantity';
import { useMemo } from 'react';
import { callApi } from '@/lib/api/client';
import { useApi, useApiChange } from '@/lib/api/hooks';
import { area, choice, number, quantity, RecordForm, text, useRecordForm } from '@/lib/forms';
import { useTranslate } from '@/lib/i18n/i18n';
import { usePressureUnit } from '@/lib/quantity/pressure-unit';
import { LoadedForForm } from '@/lib/states';

const OIL = [
  'oilViscosityAt40',
  'oilViscosityAt100',
  'oilDensity',
  'oilBulkModulus',
  'oilAirFraction',
  'coldOilTemperature',
  'workingOilTemperature',
] as const;
const GROUPS = [
  { fields: ['name', 'drive', 'plantAirLow', 'plantAirHigh', 'note'] },
  { title: 'powerUnit.oil', isFolded: true, fields: OIL },
] as const;
const BLANK_OIL = Object.fromEntries(OIL.map((field) => [field, null])) as Record<(typeof OIL)[number], null>;

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
      plantAirLow: quantity({
        label: 'powerUnit.plantAirLow',
        hint: 'powerUnit.plantAirLowHint',
        kind: 'pressure',
        unit,
      }),
      plantAirHigh: quantity({
        label: 'powerUnit.plantAirHigh',
        hint: 'powerUnit.plantAirHighHint',
        kind: 'pressure',
        unit,
      }),
      oilViscosityAt40: quantity({
        label: 'powerUnit.oilViscosityAt40',
        hint: 'powerUnit.oilViscosityHint',
        kind: 'kinematic-viscosity',
        unit: 'mm2/s',
      }),
      oilViscosityAt100: quantity({
        label: 'powerUnit.oilViscosityAt100',
        kind: 'kinematic-viscosity',
        unit: 'mm2/s',
      }),
      oilDensity: quantity({ label: 'powerUnit.oilDensity', kind: 'density', unit: 'kg/m3' }),
      oilBulkModulus: quantity({
        label: 'powerUnit.oilBulkModulus',
        hint: 'powerUnit.oilBulkModulusHint',
        kind: 'modulus',
        unit: 'GPa',
      }),
      oilAirFraction: number({
        label: 'powerUnit.oilAirFraction',
        hint: 'powerUnit.oilAirFractionHint',
        least: 0,
        most: 0.5,
      }),
      coldOilTemperature: quantity({
        label: 'powerUnit.coldOilTemperature',
        hint: 'powerUnit.coldOilTemperatureHint',
        kind: 'temperature',
        unit: 'Cel',
      }),
      workingOilTemperature: quantity({ label: 'powerUnit.workingOilTemperature', kind: 'temperature', unit: 'Cel' }),
      note: area({ label: 'customers.note' }),
    }),
    [t, unit],
  );
}

export function NewPowerUnitForm({ machineId, onDone }: { machineId: string; onDone: () => void }) {
  const t = useTranslate();
  const form = useRecordForm({
    name: `power-unit-new-${machineId}`,
    fields: useFields(),
    check: useAirCheck(),
    initial: {
      name: t('powerUnit.usualName'),
      drive: 'air',
      plantAirLow: null,
      plantAirHigh: null,
      ...BLANK_OIL,
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
      onSubmit={(values) =>
        create.mutate({ body: { id: form.id, machineId, ...values } }, { onError: form.takeFailure })
      }
    />
  );
}

function ChangeForm({ unit, etag, onDone }: { unit: PowerUnit; etag: string | null; onDone: () => void }) {
  const t = useTranslate();
  const params = { id: unit.id };
  const form = useRecordForm({
    name: `power-unit-${unit.id}`,
    fields: useFields(),
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
      cautions={[t('caution.circuitFacts')]}
      submitText={t('action.save')}
      isPending={change.isPending}
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
