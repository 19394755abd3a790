'use client';

import { routes, type Circuit, type Machine, type MCode, type Signal, type Wire } from '@repo/contracts';
import { useMemo } from 'react';
import { useApiChange } from '@/lib/api/hooks';
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

const words = (t: Translate) => [t('value.yes'), t('value.no'), t('value.notKnown')] as const;
const archived = () => check({ label: 'control.archived' });
const toEtag = (version: number): string => `"v${version}"`;

// --- M-codes ------------------------------------------------------------------------------------------------------------

const getCodeFields = (t: Translate, machine: Machine) => ({
  code: text({ label: 'control.code', hint: 'control.codeHint', isRequired: true, maxLength: 60 }),
  action: choice({
    label: 'control.action',
    choices: (['clamp', 'unclamp', 'other'] as const).map((value) => ({ value, label: t(`control.action.${value}`) })),
  }),
  stationId: choiceOrNone({
    label: 'circuit.station',
    noneText: t('control.noStation'),
    choices: machine.stations.map(({ id, name }) => ({ value: id, label: name })),
  }),
  waitsForAnswer: tristate({ label: 'control.waitsForAnswer', hint: 'control.waitsHint', words: words(t) }),
  timeOut: quantity({ label: 'control.timeOut', kind: 'time', unit: 's' }),
  note: area({ label: 'customers.note' }),
});

/** A new code, or one that is there. */
export function CodeForm({ machine, code, onDone }: { machine: Machine; code?: MCode; onDone: () => void }) {
  const t = useTranslate();
  const form = useRecordForm({
    name: `m-code-${code?.id ?? machine.id}`,
    fields: useMemo(() => ({ ...getCodeFields(t, machine), archived: archived() }), [t, machine]),
    initial: {
      code: '',
      action: 'clamp',
      stationId: machine.stations[0]?.id ?? null,
      waitsForAnswer: null,
      timeOut: null,
      note: '',
      ...code,
      archived: false,
    },
  });
  const done = { onDone: form.clearThen(onDone) };
  const create = useApiChange(routes.mCodes.create, done);
  const change = useApiChange(routes.mCodes.update, done);
  const isNew = code === undefined;
  return (
    <RecordForm
      form={form}
      groups={[
        {
          fields: [
            'code',
            'action',
            ...(isNew ? (['stationId'] as const) : []),
            'waitsForAnswer',
            'timeOut',
            'note',
            ...(isNew ? [] : (['archived'] as const)),
          ],
        },
      ]}
      label={t(isNew ? 'control.addCode' : 'control.changeCode')}
      submitText={t(isNew ? 'control.addCode' : 'action.save')}
      isPending={create.isPending || change.isPending}
      onSubmit={({ archived: isArchived, stationId, ...values }) => {
        const handle = { onError: form.takeFailure };
        if (isNew) create.mutate({ body: { id: form.id, machineId: machine.id, stationId, ...values } }, handle);
        else {
          const body = { ...values, ...(isArchived ? { archived: true } : {}) };
          change.mutate({ params: { id: code.id }, etag: toEtag(code.version), body }, handle);
        }
      }}
    />
  );
}

// --- signals ------------------------------------------------------------------------------------------------------------

const SUPPRESSIONS = ['none', 'diode', 'transient-suppressor', 'varistor', 'rc'] as const;
const getSignalFields = (t: Translate, circuits: readonly Circuit[], codes: readonly MCode[]) => ({
  direction: choice({
    label: 'control.direction',
    choices: (['output', 'input'] as const).map((value) => ({ value, label: t(`control.direction.${value}`) })),
  }),
  circuitId: choiceOrNone({
    label: 'control.circuit',
    noneText: t('control.noCircuit'),
    choices: circuits.map(({ id, name }) => ({ value: id, label: name })),
  }),
  name: text({ label: 'control.signal', hint: 'control.signalHint', isRequired: true, maxLength: 60 }),
  address: text({ label: 'control.address', hint: 'control.addressHint' }),
  actsOn: choice({
    label: 'control.actsOn',
    choices: (['clamp-coil', 'unclamp-coil', 'none'] as const).map((value) => ({
      value,
      label: t(`control.actsOn.${value}`),
    })),
  }),
  mCodeId: choiceOrNone({
    label: 'control.code',
    noneText: t('control.noCode'),
    choices: codes.map(({ id, code }) => ({ value: id, label: code })),
  }),
  relay: text({ label: 'control.relay' }),
  isHeldOn: tristate({ label: 'control.isHeldOn', hint: 'control.isHeldOnHint', words: words(t) }),
  suppression: choiceOrNone({
    label: 'control.suppression',
    noneText: t('value.notKnown'),
    choices: SUPPRESSIONS.map((value) => ({ value, label: t(`control.suppression.${value}`) })),
  }),
  suppressionVoltageV: number({
    typedIn: 'V',
    label: 'control.suppressionVoltage',
    hint: 'control.suppressionHint',
    least: 0,
    most: 10_000,
  }),
  isPolarityRight: tristate({ label: 'control.isPolarityRight', words: words(t) }),
  contact: text({ label: 'control.contact', hint: 'control.contactHint' }),
  alarm: text({ label: 'control.alarm' }),
  reaction: text({ label: 'control.reaction' }),
  note: area({ label: 'customers.note' }),
  archived: archived(),
});
const OUTPUT = [
  'actsOn',
  'mCodeId',
  'relay',
  'isHeldOn',
  'suppression',
  'suppressionVoltageV',
  'isPolarityRight',
] as const;
const INPUT = ['contact', 'alarm', 'reaction'] as const;

export function SignalForm({
  machineId,
  circuits,
  codes,
  signal,
  onDone,
}: {
  machineId: string;
  circuits: readonly Circuit[];
  codes: readonly MCode[];
  signal?: Signal;
  onDone: () => void;
}) {
  const t = useTranslate();
  const form = useRecordForm({
    name: `signal-${signal?.id ?? machineId}`,
    fields: useMemo(() => getSignalFields(t, circuits, codes), [t, circuits, codes]),
    initial: {
      direction: 'output',
      circuitId: circuits[0]?.id ?? null,
      name: '',
      address: '',
      actsOn: 'clamp-coil',
      mCodeId: null,
      relay: '',
      isHeldOn: null,
      suppression: null,
      suppressionVoltageV: null,
      isPolarityRight: null,
      contact: '',
      alarm: '',
      reaction: '',
      note: '',
      ...signal,
      archived: false,
    },
  });
  const done = { onDone: form.clearThen(onDone) };
  const create = useApiChange(routes.signals.create, done);
  const change = useApiChange(routes.signals.update, done);
  const isNew = signal === undefined;
  return (
    <RecordForm
      form={form}
      groups={[
        {
          fields: [
            ...(isNew ? (['direction', 'circuitId'] as const) : []),
            'name',
            'address',
            ...(form.drafts.direction === 'input' ? INPUT : OUTPUT),
            'note',
            ...(isNew ? [] : (['archived'] as const)),
          ],
        },
      ]}
      label={t(isNew ? 'control.addSignal' : 'control.changeSignal')}
      cautions={[t('caution.signals')]}
      submitText={t(isNew ? 'control.addSignal' : 'action.save')}
      isPending={create.isPending || change.isPending}
      onSubmit={({ archived: isArchived, direction, circuitId, ...values }) => {
        const handle = { onError: form.takeFailure };
        // An input drives no coil.
        const body = direction === 'input' ? { ...values, actsOn: 'none' as const } : values;
        if (isNew) create.mutate({ body: { id: form.id, machineId, direction, circuitId, ...body } }, handle);
        else {
          const changed = { ...body, ...(isArchived ? { archived: true } : {}) };
          change.mutate({ params: { id: signal.id }, etag: toEtag(signal.version), body: changed }, handle);
        }
      }}
    />
  );
}

// --- wires --------------------------------------------------------------------------------------------------------------

const WIRE_FIELDS = {
  number: text({ label: 'control.wire', isRequired: true, maxLength: 60 }),
  fromTerminal: text({ label: 'control.from', isRequired: true, maxLength: 60 }),
  toTerminal: text({ label: 'control.to', isRequired: true, maxLength: 60 }),
  colour: text({ label: 'control.colour' }),
  crossSection: quantity({ label: 'control.crossSection', kind: 'area', unit: 'mm2' }),
  length: quantity({ label: 'control.length', hint: 'control.lengthHint', kind: 'length', unit: 'm' }),
  protectionA: number({
    label: 'control.protection',
    hint: 'control.protectionHint',
    least: 0,
    most: 10_000,
    typedIn: 'A',
  }),
  conductorLimitA: number({
    typedIn: 'A',
    label: 'control.conductorLimit',
    hint: 'control.conductorLimitHint',
    least: 0,
    most: 10_000,
  }),
  insulationVoltageV: number({ label: 'control.insulation', least: 0, most: 10_000, typedIn: 'V' }),
  highestInCableV: number({
    typedIn: 'V',
    label: 'control.highestInCable',
    hint: 'control.highestInCableHint',
    least: 0,
    most: 10_000,
  }),
  note: area({ label: 'customers.note' }),
  archived: archived(),
};

export function WireForm({ signal, wire, onDone }: { signal: Signal; wire?: Wire; onDone: () => void }) {
  const t = useTranslate();
  const form = useRecordForm({
    name: `wire-${wire?.id ?? signal.id}`,
    fields: WIRE_FIELDS,
    initial: {
      number: '',
      fromTerminal: '',
      toTerminal: signal.name,
      colour: '',
      crossSection: null,
      length: null,
      protectionA: null,
      conductorLimitA: null,
      insulationVoltageV: null,
      highestInCableV: null,
      note: '',
      ...wire,
      archived: false,
    },
  });
  const done = { onDone: form.clearThen(onDone) };
  const create = useApiChange(routes.wires.create, done);
  const change = useApiChange(routes.wires.update, done);
  const isNew = wire === undefined;
  const { archived: _archived, ...plain } = WIRE_FIELDS;
  const names = Object.keys(plain) as (keyof typeof plain)[];
  return (
    <RecordForm
      form={form}
      groups={[{ fields: [...names, ...(isNew ? [] : (['archived'] as const))] }]}
      label={t(isNew ? 'control.addWire' : 'control.changeWire')}
      cautions={[t('caution.signals')]}
      submitText={t(isNew ? 'control.addWire' : 'action.save')}
      isPending={create.isPending || change.isPending}
      onSubmit={({ archived: isArchived, ...values }) => {
        const handle = { onError: form.takeFailure };
        if (isNew) create.mutate({ body: { id: form.id, signalId: signal.id, ...values } }, handle);
        else {
          const body = { ...values, ...(isArchived ? { archived: true } : {}) };
          change.mutate({ params: { id: wire.id }, etag: toEtag(wire.version), body }, handle);
        }
      }}
    />
  );
}
