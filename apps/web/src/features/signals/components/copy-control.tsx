'use client';

import { routes, type Machine } from '@repo/contracts';
import { useState } from 'react';
import { useApi, useApiChange } from '@/lib/api/hooks';
import { combo, FormDialog, RecordForm, useRecordForm } from '@/lib/forms';
import { useTranslate } from '@/lib/i18n/i18n';
import { useSearchedChoices } from '@/lib/searched-list';
import { useMay } from '@/lib/session/session';
import { Notice } from '@/ui/notice';

const toChoice = ({ id, name, siteName, customerName }: Machine) => ({
  value: id,
  label: `${name}, ${siteName} · ${customerName}`,
});

const ALL = {};

/** Stations of two machines that stand for each other: those of one place in their order. */
const pairStations = (machine: Machine, like: Machine | undefined) =>
  machine.stations.flatMap((station, index) => {
    const likeStation = like?.stations[index];
    return likeStation === undefined ? [] : [{ station, likeStation }];
  });

const toIds = ({ station, likeStation }: ReturnType<typeof pairStations>[number]) => ({
  ...{ stationId: station.id, likeStationId: likeStation.id },
});

/** The machine that is like this one. */
function CopyControlForm({ machine, onDone }: { machine: Machine; onDone: () => void }) {
  const t = useTranslate();
  const { choices, setSearch } = useSearchedChoices(routes.machines.list, ALL, toChoice);
  const form = useRecordForm({
    name: `control-copy-${machine.id}`,
    fields: {
      likeId: combo({
        label: 'copy.likeMachine',
        isRequired: true,
        choices: choices.filter(({ value }) => value !== machine.id),
        onSearch: setSearch,
        emptyText: t('copy.noMachineFits'),
      }),
    },
    initial: { likeId: '' },
  });
  const [likeId, setLikeId] = useState('');
  if (form.drafts.likeId !== likeId) setLikeId(form.drafts.likeId);
  const like = useApi(routes.machines.get, { params: { id: likeId } }, { isEnabled: likeId !== '' }).data?.data;
  const pairs = pairStations(machine, like);
  const copy = useApiChange(routes.signals.copyControl, { onDone: form.clearThen(onDone) });
  return (
    <RecordForm
      form={form}
      groups={[{ fields: ['likeId'] }]}
      label={t('copy.control')}
      cautions={[t('interlock.notSafety'), t('caution.signals')]}
      submitText={t('copy.save')}
      isPending={copy.isPending || (likeId !== '' && like === undefined)}
      onSubmit={() => {
        copy.mutate(
          {
            params: { id: likeId },
            idempotencyKey: form.takeAttempt().key,
            body: { id: form.id, machineId: machine.id, stations: pairs.map(toIds) },
          },
          { onError: form.takeFailure },
        );
      }}
    >
      <Notice role="status">
        {t('copy.controlTakes')}
        {pairs.map(({ station, likeStation }) => (
          <span key={station.id}> {t('copy.controlPair', { name: station.name, like: likeStation.name })}</span>
        ))}
      </Notice>
    </RecordForm>
  );
}

/** For whoever may, on a machine that has no control recorded yet. */
export function CopyControl({ machine }: { machine: Machine }) {
  const t = useTranslate();
  const may = useMay();
  if (!may(routes.signals.copyControl)) return null;
  return (
    <FormDialog action={t('copy.control')} title={t('copy.control')}>
      {(close) => <CopyControlForm machine={machine} onDone={close} />}
    </FormDialog>
  );
}
