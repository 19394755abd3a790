'use client';

import { routes, type Machine } from '@repo/contracts';
import { useRouter } from 'next/navigation';
import { useMemo } from 'react';
import { callApi } from '@/lib/api/client';
import { useApi, useApiChange } from '@/lib/api/hooks';
import { combo, FormDialog, RecordForm, useRecordForm } from '@/lib/forms';
import { useTranslate } from '@/lib/i18n/i18n';
import { createId } from '@/lib/ids';
import { usePressureUnit } from '@/lib/quantity/pressure-unit';
import { useMay } from '@/lib/session/session';
import { LoadedForForm } from '@/lib/states';
import { BLANK_FIGURES, getMachineFields, MACHINE_GROUPS, NEW_MACHINE_GROUPS, stationsField } from '../machine-fields';
import { useSiteChoices } from '../site-choices';

const BLANK = {
  name: '',
  form: 'pallets' as const,
  wayIn: 'rotary-union' as const,
  ...BLANK_FIGURES,
  description: '',
  model: '',
  serial: '',
  axes: '',
  inServiceOn: null,
  warrantyUntil: null,
  quoteReference: '',
  emergencyStopBehaviour: '',
  trainedPersons: '',
  kitList: '',
  asShipped: '',
  asReceived: '',
};

function NewMachineForm({ siteId, onDone }: { siteId: string; onDone: (machine: Machine) => void }) {
  const t = useTranslate();
  const { unit } = usePressureUnit();
  const fields = useMemo(() => ({ ...getMachineFields(t, unit), stations: stationsField() }), [t, unit]);
  const form = useRecordForm({
    name: `machine-new-${siteId}`,
    fields,
    initial: {
      ...BLANK,
      stations: [1, 2].map((number) => ({ id: createId(), name: t('machine.form.pallet', { number }) })),
    },
    check: (values) =>
      values.form === 'single-station' && values.stations.length !== 1
        ? [{ field: 'stations', text: t('machine.form.oneStation') }]
        : [],
  });
  const create = useApiChange(routes.machines.create, {
    onDone: form.clearThen(({ data }) => onDone(data)),
  });
  return (
    <RecordForm
      form={form}
      groups={NEW_MACHINE_GROUPS}
      label={t('machine.add')}
      submitText={t('machine.add')}
      isPending={create.isPending}
      onSubmit={({ stations, ...values }) =>
        create.mutate(
          {
            body: {
              id: form.id,
              siteId,
              ...values,
              stations: stations.map(({ id, name }) => ({ id: id ?? createId(), name })),
            },
          },
          { onError: form.takeFailure },
        )
      }
    />
  );
}

/** For whoever may: adds a machine to a site and goes there, where the guide leads on. */
export function AddMachine({ siteId }: { siteId: string }) {
  const t = useTranslate();
  const router = useRouter();
  const may = useMay();
  if (!may(routes.machines.create)) return null;
  return (
    <FormDialog look="strong" action={t('machine.add')} title={t('machine.add')}>
      {(close) => (
        <NewMachineForm
          siteId={siteId}
          onDone={(machine) => {
            close();
            router.push(`/machines/${machine.id}`);
          }}
        />
      )}
    </FormDialog>
  );
}

function ChangeForm({ machine, etag, onDone }: { machine: Machine; etag: string | null; onDone: () => void }) {
  const t = useTranslate();
  const params = { id: machine.id };
  const { unit } = usePressureUnit();
  const { choices: sites, setSearch } = useSiteChoices(machine, false);
  const fields = useMemo(
    () => ({
      ...getMachineFields(t, unit),
      siteId: combo({
        label: 'machine.site',
        hint: 'machine.form.siteHint',
        isRequired: true,
        choices: sites,
        onSearch: setSearch,
        emptyText: t('sites.noneFits'),
      }),
    }),
    [t, unit, sites, setSearch],
  );
  const form = useRecordForm({
    name: `machine-${machine.id}`,
    fields,
    initial: machine,
    etag,
    readAgain: () => callApi(routes.machines.get, { params }),
  });
  const change = useApiChange(routes.machines.update, {
    onDone: form.clearThen(onDone),
  });
  return (
    <RecordForm
      form={form}
      groups={MACHINE_GROUPS}
      label={t('machine.change')}
      cautions={[t('caution.machine')]}
      submitText={t('action.save')}
      isPending={change.isPending}
      onSubmit={(_values, changed) =>
        change.mutate({ params, etag: form.etag, body: changed }, { onError: form.takeFailure })
      }
    />
  );
}

/** The machine as it is now, with its entity tag: what the page shows may be of another day. */
export function ChangeMachineForm({ machineId, onDone }: { machineId: string; onDone: () => void }) {
  const query = useApi(routes.machines.get, { params: { id: machineId } });
  return (
    <LoadedForForm query={query}>
      {({ data, etag }) => <ChangeForm machine={data} etag={etag} onDone={onDone} />}
    </LoadedForForm>
  );
}
