'use client';

import { routes, type ControlBehaviour, type Machine } from '@repo/contracts';
import { useMemo } from 'react';
import { callApi } from '@/lib/api/client';
import { useApi, useApiChange } from '@/lib/api/hooks';
import { choiceOrNone, number, quantity, RecordForm, tristate, useRecordForm } from '@/lib/forms';
import { useTranslate, type Translate } from '@/lib/i18n/i18n';
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
  const said = (name: Said) => tristate({ label: `control.behaviour.${name}`, words });
  return {
    onPressureLoss: oneOf('onPressureLoss'),
    cutNeedsSwitch: said('cutNeedsSwitch'),
    palletNeedsSwitch: said('palletNeedsSwitch'),
    switchMustOpen: said('switchMustOpen'),
    unclampBlockedWhile: oneOf('unclampBlockedWhile'),
    manualInterlocked: said('manualInterlocked'),
    alarmLatches: said('alarmLatches'),
    resetClearsAlarm: said('resetClearsAlarm'),
    alarmMasked: said('alarmMasked'),
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

const getSupplyFields = (t: Translate) => ({
  controlVoltageV: number({ label: 'control.voltage', hint: 'control.voltageHint', least: 0, most: 1000 }),
  supplyRatingW: number({ label: 'control.supplyRating', least: 0, most: 1e6 }),
  supplyPeakW: number({ label: 'control.supplyPeak', hint: 'control.supplyPeakHint', least: 0, most: 1e6 }),
  controlLoadW: number({ label: 'control.load', hint: 'control.loadHint', least: 0, most: 1e6 }),
  controlLoadPeakW: number({ label: 'control.loadPeak', least: 0, most: 1e6 }),
  supplyReserveRatio: number({ label: 'control.reserve', hint: 'control.reserveHint', least: 0, most: 1 }),
  controlTemperature: quantity({ label: 'control.temperature', kind: 'temperature', unit: 'Cel' }),
  hasSeparateCommons: tristate({
    label: 'control.hasSeparateCommons',
    words: [t('value.yes'), t('value.no'), t('control.notSaid')],
  }),
  outputRatingV: number({ label: 'control.outputRating', hint: 'control.outputRatingHint', least: 0, most: 10_000 }),
});
const SUPPLY = [
  'controlVoltageV',
  'supplyRatingW',
  'supplyPeakW',
  'controlLoadW',
  'controlLoadPeakW',
  'supplyReserveRatio',
  'controlTemperature',
  'hasSeparateCommons',
  'outputRatingV',
] as const satisfies readonly (keyof Machine)[];

const toValues = (machine: Machine) => ({ ...machine, ...machine.controlBehaviour });

function ChangeForm({ machine, etag, onDone }: { machine: Machine; etag: string | null; onDone: () => void }) {
  const t = useTranslate();
  const params = { id: machine.id };
  const form = useRecordForm({
    name: `control-${machine.id}`,
    fields: useMemo(() => ({ ...getBehaviourFields(t), ...getSupplyFields(t) }), [t]),
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
        { title: 'control.supply', fields: SUPPLY },
      ]}
      label={t('control.sayBehaviour')}
      cautions={[t('interlock.notSafety')]}
      submitText={t('action.save')}
      isPending={change.isPending}
      onSubmit={(values) => {
        const { controlVoltageV, supplyRatingW, supplyPeakW, controlLoadW, controlLoadPeakW } = values;
        const { supplyReserveRatio, controlTemperature, hasSeparateCommons, outputRatingV, ...controlBehaviour } =
          values;
        const supply = { controlVoltageV, supplyRatingW, supplyPeakW, controlLoadW, controlLoadPeakW };
        const rest = { supplyReserveRatio, controlTemperature, hasSeparateCommons, outputRatingV };
        const behaviour = Object.fromEntries(BEHAVIOUR.map((name) => [name, controlBehaviour[name]]));
        change.mutate(
          { params, etag: form.etag, body: { ...supply, ...rest, controlBehaviour: behaviour } },
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
