'use client';

import { CIRCUIT_FIGURES } from '@repo/calc/figures';
import { routes, type Circuit, type Machine, type PowerUnit } from '@repo/contracts';
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
import { useTranslate, type Translate } from '@/lib/i18n/i18n';
import { usePressureUnit } from '@/lib/quantity/pressure-unit';
import { LoadedForForm } from '@/lib/states';

const getFields = (t: Translate, unit: string) => ({
  name: text({ label: 'circuit.name', hint: 'circuit.nameHint', isRequired: true, maxLength: 120 }),
  purpose: text({ label: 'circuit.purpose', isRequired: true, maxLength: 120 }),
  ...figureFields('circuit', CIRCUIT_FIGURES, { t, pressureUnit: unit, unsaid: t('value.notKnown') }),
  note: area({ label: 'customers.note' }),
});
const COMMON_GROUPS = [
  ...groupFigures(CIRCUIT_FIGURES, {
    main: { before: ['name', 'purpose'] },
    reducing: {},
    trapped: { title: 'circuit.trapped', isFolded: true },
    'without-supply': { title: 'circuit.withoutSupply', isFolded: true },
    opening: { title: 'circuit.opening', isFolded: true },
  }),
  { fields: ['note'] },
] as const;
const BLANK = { ...blankFigures(CIRCUIT_FIGURES), note: '' };

/** A "no" that the pump contradicts is asked about once: whoever drives a pump by air has a check valve at its outlet. */
const listTrapDoubts = (canTrap: boolean | null, powerUnit: PowerUnit | undefined, t: Translate): string[] =>
  canTrap === false && powerUnit?.drive === 'air' ? [t('circuit.canTrapDoubt', { name: powerUnit.name })] : [];

/** One circuit for a station; the first one that has none is offered. */
export function NewCircuitForm({
  machine,
  powerUnits,
  circuits,
  onDone,
}: {
  machine: Machine;
  powerUnits: readonly PowerUnit[];
  circuits: readonly Circuit[];
  onDone: () => void;
}) {
  const t = useTranslate();
  const { unit } = usePressureUnit();
  const bare = machine.stations.find((station) => !circuits.some((circuit) => circuit.stationId === station.id));
  const station = bare ?? machine.stations[0];
  const fields = useMemo(
    () => ({
      ...getFields(t, unit),
      powerUnitId: choice({
        label: 'components.powerUnit.label',
        choices: powerUnits.map((unit) => ({ value: unit.id, label: unit.name })),
      }),
      stationId: choice({
        label: 'circuit.station',
        choices: machine.stations.map(({ id, name }) => ({ value: id, label: name })),
      }),
    }),
    [t, unit, powerUnits, machine.stations],
  );
  const form = useRecordForm({
    name: `circuit-new-${machine.id}`,
    fields,
    initial: {
      ...BLANK,
      name: station === undefined ? '' : station.name,
      purpose: t('circuit.usualPurpose'),
      powerUnitId: powerUnits[0]?.id ?? '',
      stationId: station?.id ?? '',
    },
  });
  const create = useApiChange(routes.circuits.create, {
    onDone: form.clearThen(onDone),
  });
  return (
    <RecordForm
      form={form}
      groups={[{ fields: ['stationId', 'powerUnitId'] }, ...COMMON_GROUPS]}
      label={t('circuit.add')}
      submitText={t('circuit.add')}
      isPending={create.isPending}
      question={(values) => [
        ...listFieldDoubts(fields, values, null, unit, t),
        ...listTrapDoubts(
          values.canTrap,
          powerUnits.find(({ id }) => id === values.powerUnitId),
          t,
        ),
      ]}
      onSubmit={(values) => create.mutate({ body: { id: form.id, ...values } }, { onError: form.takeFailure })}
    />
  );
}

interface ChangeProps {
  powerUnits: readonly PowerUnit[];
  onDone: () => void;
}

function ChangeForm({ circuit, etag, powerUnits, onDone }: ChangeProps & { circuit: Circuit; etag: string | null }) {
  const t = useTranslate();
  const { unit } = usePressureUnit();
  const params = { id: circuit.id };
  const powerUnit = powerUnits.find(({ id }) => id === circuit.powerUnitId);
  const fields = useMemo(() => getFields(t, unit), [t, unit]);
  const form = useRecordForm({
    name: `circuit-${circuit.id}`,
    fields,
    initial: circuit,
    etag,
    readAgain: () => callApi(routes.circuits.get, { params }),
  });
  const change = useApiChange(routes.circuits.update, {
    onDone: form.clearThen(onDone),
  });
  return (
    <RecordForm
      form={form}
      groups={COMMON_GROUPS}
      label={t('circuit.change')}
      cautions={[t('caution.circuit')]}
      submitText={t('action.save')}
      isPending={change.isPending}
      question={(values) => [
        ...listFieldDoubts(fields, values, circuit, unit, t),
        ...(circuit.canTrap === false ? [] : listTrapDoubts(values.canTrap, powerUnit, t)),
      ]}
      onSubmit={(_values, changed) =>
        change.mutate({ params, etag: form.etag, body: changed }, { onError: form.takeFailure })
      }
    />
  );
}

export function ChangeCircuitForm({ circuitId, ...rest }: ChangeProps & { circuitId: string }) {
  const query = useApi(routes.circuits.get, { params: { id: circuitId } });
  return (
    <LoadedForForm query={query}>
      {({ data, etag }) => <ChangeForm circuit={data} etag={etag} {...rest} />}
    </LoadedForForm>
  );
}
