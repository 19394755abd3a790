'use client';

import { MACHINE_SUPPLY } from '@repo/calc/figures';
import { routes, type ControlBehaviour, type Machine } from '@repo/contracts';
import { useMemo } from 'react';
import { callApi } from '@/lib/api/client';
import { useApi, useApiChange } from '@/lib/api/hooks';
import {
  choiceOrNone,
  figureFields,
  groupFigures,
  pickFigures,
  RecordForm,
  tristate,
  useRecordForm,
} from '@/lib/forms';
import { useTranslate, type Translate } from '@/lib/i18n/i18n';
import { usePressureUnit } from '@/lib/quantity/pressure-unit';
import { LoadedForForm } from '@/lib/states';

type Said =
  | 'cutNeedsSwitch'
  | 'palletNeedsSwitch'
  | 'alarmLatches'
  | 'resetClearsAlarm'
  | 'alarmMasked'
  | 'switchMustOpen'
  | 'manualInterlocked';
const CHOICES = {
  onPressureLoss: ['stop', 'feed-hold', 'alarm-only', 'nothing'],
  unclampBlockedWhile: ['turning', 'cutting', 'never'],
  onEmergencyStop: ['keep', 'drop'],
  onReset: ['keep', 'drop', 'unclamp'],
  onPowerReturn: ['keep', 'drop'],
  onAirLow: ['stop', 'nothing'],
  airReturn: ['by-hand', 'at-once'],
} as const satisfies Partial<Record<keyof ControlBehaviour, readonly string[]>>;
type Chosen = keyof typeof CHOICES;

function getBehaviourFields(t: Translate) {
  const words = [t('value.yes'), t('value.no'), t('control.notSaid')] as const;
  const oneOf = <K extends Chosen>(name: K) =>
    choiceOrNone<(typeof CHOICES)[K][number]>({
      label: `control.behaviour.${name}`,
      noneText: t('control.notSaid'),
      choices: (CHOICES[name] as readonly (typeof CHOICES)[K][number][]).map((value) => ({
        value,
        label: t.find(`control.does.${value}`) ?? value,
      })),
    });
  const answer = (name: Said) => tristate({ label: `control.behaviour.${name}`, words });
  return {
    onPressureLoss: oneOf('onPressureLoss'),
    cutNeedsSwitch: answer('cutNeedsSwitch'),
    palletNeedsSwitch: answer('palletNeedsSwitch'),
    switchMustOpen: answer('switchMustOpen'),
    unclampBlockedWhile: oneOf('unclampBlockedWhile'),
    manualInterlocked: answer('manualInterlocked'),
    alarmLatches: answer('alarmLatches'),
    resetClearsAlarm: answer('resetClearsAlarm'),
    alarmMasked: answer('alarmMasked'),
    onEmergencyStop: oneOf('onEmergencyStop'),
    onReset: oneOf('onReset'),
    onPowerReturn: oneOf('onPowerReturn'),
    onAirLow: oneOf('onAirLow'),
    airReturn: oneOf('airReturn'),
  };
}
const BEHAVIOUR = [
  'onPressureLoss',
  'cutNeedsSwitch',
  'palletNeedsSwitch',
  'switchMustOpen',
  'unclampBlockedWhile',
  'manualInterlocked',
  'alarmLatches',
  'resetClearsAlarm',
  'alarmMasked',
  'onEmergencyStop',
  'onReset',
  'onPowerReturn',
  'onAirLow',
  'airReturn',
] as const satisfies readonly (keyof ControlBehaviour)[];

const toValues = (machine: Machine) => ({ ...machine, ...machine.controlBehaviour });

function ChangeForm({ machine, etag, onDone }: { machine: Machine; etag: string | null; onDone: () => void }) {
  const t = useTranslate();
  const { unit } = usePressureUnit();
  const params = { id: machine.id };
  const form = useRecordForm({
    name: `control-${machine.id}`,
    fields: useMemo(
      () => ({
        ...getBehaviourFields(t),
        ...figureFields('control', MACHINE_SUPPLY, { t, pressureUnit: unit, unsaid: t('control.notSaid') }),
      }),
      [t, unit],
    ),
    initial: toValues(machine),
    etag,
    readAgain: async () => {
      const answer = await callApi(routes.machines.get, { params });
      return { ...answer, data: toValues(answer.data) };
    },
  });
  const change = useApiChange(routes.machines.update, { onDone: form.clearThen(onDone) });
  return (
    <RecordForm
      form={form}
      groups={[
        { title: 'control.behaviour', fields: BEHAVIOUR },
        ...groupFigures(MACHINE_SUPPLY, { supply: { title: 'control.supply' } }),
      ]}
      label={t('control.sayBehaviour')}
      cautions={[t('interlock.notSafety')]}
      submitText={t('action.save')}
      isPending={change.isPending}
      onSubmit={(values) => {
        const behaviour = Object.fromEntries(BEHAVIOUR.map((name) => [name, values[name]]));
        const supply = pickFigures(MACHINE_SUPPLY, values);
        change.mutate(
          { params, etag: form.etag, body: { ...supply, controlBehaviour: behaviour } },
          { onError: form.takeFailure },
        );
      }}
    />
  );
}

/** What the control does, and what feeds it. */
export function BehaviourForm({ machineId, onDone }: { machineId: string; onDone: () => void }) {
  const query = useApi(routes.machines.get, { params: { id: machineId } });
  return (
    <LoadedForForm query={query}>
      {({ data, etag }) => <ChangeForm machine={data} etag={etag} onDone={onDone} />}
    </LoadedForForm>
  );
}
