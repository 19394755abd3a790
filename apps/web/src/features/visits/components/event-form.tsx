'use client';

import { routes, type MachineOverview } from '@repo/contracts';
import { useApiChange } from '@/lib/api/hooks';
import { area, choice, FormDialog, moment, RecordForm, text, useRecordForm } from '@/lib/forms';
import { useTranslate } from '@/lib/i18n/i18n';
import { useMachineOverview } from '@/lib/machine-overview';
import { useMay, useSession } from '@/lib/session/session';

const KINDS = [
  'installed',
  'adjusted',
  'component-exchanged',
  'fixture-changed',
  'inspected',
  'repaired',
  'oil-changed',
  'other',
] as const;

function EventForm({ overview, onDone }: { overview: MachineOverview; onDone: () => void }) {
  const t = useTranslate();
  const { me } = useSession();
  const { machine, circuits } = overview;
  const fields = {
    kind: choice({
      label: 'visits.kindField',
      choices: KINDS.map((value) => ({ value, label: t(`visits.kind.${value}`) })),
    }),
    circuitId: choice({
      label: 'fleet.circuit',
      choices: [
        { value: 'all', label: t('issues.wholeMachine') },
        ...circuits.map(({ circuit }) => ({ value: circuit.id, label: circuit.name })),
      ],
    }),
    occurredAt: moment({ label: 'visits.whenField', hint: 'form.emptyIsNow', timeZone: machine.timeZone }),
    personName: text({ label: 'visits.who', isRequired: true }),
    text: area({ label: 'visits.what', hint: 'visits.whatHint', isRequired: true }),
  };
  const form = useRecordForm({
    name: `event-${machine.id}`,
    fields,
    initial: { kind: 'inspected', circuitId: 'all', occurredAt: null, personName: me.displayName, text: '' },
  });
  const create = useApiChange(routes.serviceEvents.create, {
    onDone: form.clearThen(onDone),
  });
  return (
    <RecordForm
      form={form}
      groups={[{ fields: ['kind', 'circuitId', 'occurredAt', 'personName', 'text'] }]}
      label={t('visits.add')}
      submitText={t('visits.add')}
      isPending={create.isPending}
      onSubmit={({ circuitId, occurredAt, ...values }) => {
        const attempt = form.takeAttempt();
        create.mutate(
          {
            idempotencyKey: attempt.key,
            body: {
              id: form.id,
              machineId: machine.id,
              circuitId: circuitId === 'all' ? null : circuitId,
              occurredAt: occurredAt ?? attempt.at,
              ...values,
            },
          },
          { onError: form.takeFailure },
        );
      }}
    >
      <p>{t('visits.recordsOnly')}</p>
    </RecordForm>
  );
}

/** Enters what was done on the machine. */
export function AddEvent({ machineId }: { machineId: string }) {
  const t = useTranslate();
  const may = useMay();
  const overview = useMachineOverview(machineId).query.data?.data;
  if (overview === undefined || !may(routes.serviceEvents.create)) return null;
  return (
    <FormDialog action={t('visits.add')} title={t('visits.addFor', { name: overview.machine.name })}>
      {(close) => <EventForm overview={overview} onDone={close} />}
    </FormDialog>
  );
}
