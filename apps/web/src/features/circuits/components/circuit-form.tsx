'use client';

import { routes, type Circuit, type Machine, type PowerUnit } from '@repo/contracts';
import { useMemo } from 'react';
import { callApi } from '@/lib/api/client';
import { useApi, useApiChange } from '@/lib/api/hooks';
import {
  area,
  check,
  choice,
  choiceOrNone,
  number,
  quantity,
  RecordForm,
  text,
  tristate,
  useRecordForm,
} from '@/lib/forms';
import { useTranslate, type Translate } from '@/lib/i18n/i18n';
import { usePressureUnit } from '@/lib/quantity/pressure-unit';
import { LoadedForForm } from '@/lib/states';

const VALVE_BEHAVIOURS = [
  'double-detented',
  'double-centred',
  'single-rests-clamped',
  'single-rests-unclamped',
] as const satisfies readonly NonNullable<Circuit['valveBehaviour']>[];

const getFields = (t: Translate, unit: string) => {
  const words = [t('value.yes'), t('value.no'), t('ladder.notKnown')] as const;
  return {
    name: text({ label: 'circuit.name', hint: 'circuit.nameHint', isRequired: true, maxLength: 120 }),
    purpose: text({ label: 'circuit.purpose', isRequired: true, maxLength: 120 }),
    hasReducingValve: check({ label: 'circuit.hasReducingValve' }),
    canTrap: tristate({ label: 'circuit.canTrap', hint: 'circuit.canTrapHint', words }),
    trappedTemperatureRise: quantity({
      label: 'circuit.trappedTemperatureRise',
      kind: 'temperature-difference',
      unit: 'K',
    }),
    trappedNetExpansionPerK: number({
      label: 'circuit.trappedNetExpansion',
      hint: 'circuit.trappedNetExpansionHint',
      least: 0,
      most: 0.01,
    }),
    trappedBulkModulus: quantity({ label: 'circuit.trappedBulkModulus', kind: 'modulus', unit: 'GPa' }),
    unclampLineCanBlock: tristate({
      label: 'circuit.unclampLineCanBlock',
      hint: 'circuit.unclampLineCanBlockHint',
      words,
    }),
    clampTimeAllowed: quantity({ label: 'circuit.clampTimeAllowed', kind: 'time', unit: 's' }),
    unclampTimeAllowed: quantity({ label: 'circuit.unclampTimeAllowed', kind: 'time', unit: 's' }),
    isDecoupled: tristate({ label: 'circuit.isDecoupled', hint: 'circuit.isDecoupledHint', words }),
    timeWithoutSupply: quantity({ label: 'circuit.timeWithoutSupply', kind: 'time', unit: 'h' }),
    coolingWithoutSupply: quantity({
      label: 'circuit.coolingWithoutSupply',
      kind: 'temperature-difference',
      unit: 'K',
    }),
    isProvedAgain: tristate({ label: 'circuit.isProvedAgain', hint: 'circuit.isProvedAgainHint', words }),
    valveBehaviour: choiceOrNone({
      label: 'circuit.valveBehaviour',
      noneText: words[2],
      choices: VALVE_BEHAVIOURS.map((value) => ({ value, label: t(`circuit.valveBehaviour.${value}`) })),
    }),
    isCheckHeld: tristate({ label: 'circuit.isCheckHeld', hint: 'circuit.isCheckHeldHint', words }),
    needsOpenProof: tristate({ label: 'circuit.needsOpenProof', hint: 'circuit.needsOpenProofHint', words }),
    hasOpenProof: tristate({ label: 'circuit.hasOpenProof', hint: 'circuit.hasOpenProofHint', words }),
    returnPressure: quantity({
      label: 'circuit.returnPressure',
      hint: 'circuit.returnPressureHint',
      kind: 'pressure',
      unit,
    }),
    note: area({ label: 'customers.note' }),
  };
};
const COMMON_GROUPS = [
  {
    fields: [
      'name',
      'purpose',
      'clampTimeAllowed',
      'unclampTimeAllowed',
      'canTrap',
      'unclampLineCanBlock',
      'isDecoupled',
      'needsOpenProof',
      'valveBehaviour',
    ],
  },
  { fields: ['hasReducingValve'] },
  {
    title: 'circuit.trapped',
    isFolded: true,
    fields: ['trappedTemperatureRise', 'trappedNetExpansionPerK', 'trappedBulkModulus'],
  },
  {
    title: 'circuit.withoutSupply',
    isFolded: true,
    fields: ['timeWithoutSupply', 'coolingWithoutSupply', 'isProvedAgain'],
  },
  {
    title: 'circuit.opening',
    isFolded: true,
    fields: ['hasOpenProof', 'returnPressure', 'isCheckHeld'],
  },
  { fields: ['note'] },
] as const;
const BLANK = {
  hasReducingValve: false,
  canTrap: null,
  trappedTemperatureRise: null,
  trappedNetExpansionPerK: null,
  trappedBulkModulus: null,
  unclampLineCanBlock: null,
  clampTimeAllowed: null,
  unclampTimeAllowed: null,
  isDecoupled: null,
  timeWithoutSupply: null,
  coolingWithoutSupply: null,
  isProvedAgain: null,
  valveBehaviour: null,
  isCheckHeld: null,
  needsOpenProof: null,
  hasOpenProof: null,
  returnPressure: null,
  note: '',
};

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
      onSubmit={(values) => create.mutate({ body: { id: form.id, ...values } }, { onError: form.takeFailure })}
    />
  );
}

function ChangeForm({ circuit, etag, onDone }: { circuit: Circuit; etag: string | null; onDone: () => void }) {
  const t = useTranslate();
  const { unit } = usePressureUnit();
  const params = { id: circuit.id };
  const form = useRecordForm({
    name: `circuit-${circuit.id}`,
    fields: useMemo(() => getFields(t, unit), [t, unit]),
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
      cautions={[t('caution.circuitFacts')]}
      submitText={t('action.save')}
      isPending={change.isPending}
      onSubmit={(_values, changed) =>
        change.mutate({ params, etag: form.etag, body: changed }, { onError: form.takeFailure })
      }
    />
  );
}

export function ChangeCircuitForm({ circuitId, onDone }: { circuitId: string; onDone: () => void }) {
  const query = useApi(routes.circuits.get, { params: { id: circuitId } });
  return (
    <LoadedForForm query={query}>
      {({ data, etag }) => <ChangeForm circuit={data} etag={etag} onDone={onDone} />}
    </LoadedForForm>
  );
}
