'use client';

import { routes, type Machine } from '@repo/contracts';
import { useMemo } from 'react';
import { useApiChange } from '@/lib/api/hooks';
import { combo, list, moment, RecordForm, text, useRecordForm } from '@/lib/forms';
import { useTranslate } from '@/lib/i18n/i18n';
import { idBeside } from '@/lib/ids';
import { Notice } from '@/ui/notice';
import { useSiteChoices } from '../site-choices';

/** What differs on a second like machine, asked once. */
export function CopyMachineForm({ machine, onDone }: { machine: Machine; onDone: (copy: Machine) => void }) {
  const t = useTranslate();
  const { choices: sites, setSearch } = useSiteChoices(machine, true);
  const fields = useMemo(
    () => ({
      name: text({ label: 'machine.name', hint: 'machine.form.nameHint', isRequired: true, maxLength: 120 }),
      serial: text({ label: 'machine.serial' }),
      siteId: combo({
        label: 'machine.site',
        hint: 'copy.siteHint',
        isRequired: true,
        choices: sites,
        onSearch: setSearch,
        emptyText: t('sites.noneFits'),
      }),
      stations: list({
        label: 'machine.form.stations',
        hint: 'copy.stationsHint',
        itemLabel: 'machine.form.station',
        addText: 'machine.form.addStation',
        least: 1,
        // Each stands for one of the original: there are no more to copy.
        most: 0,
        parts: { name: text({ label: 'machine.form.stationName', isRequired: true, maxLength: 120 }) },
        blank: { name: '' },
      }),
      fittedFrom: moment({ label: 'copy.fittedFrom', hint: 'form.emptyIsNow', timeZone: machine.timeZone }),
      reason: text({ label: 'copy.reason', hint: 'copy.reasonHint', isRequired: true, maxLength: 400 }),
    }),
    [sites, setSearch, machine.timeZone, t],
  );
  const form = useRecordForm({
    name: `machine-copy-${machine.id}`,
    fields,
    initial: {
      name: '',
      serial: '',
      siteId: machine.siteId,
      // Each keeps the id of the station that it is a copy of.
      stations: machine.stations.map(({ id, name }) => ({ id, name })),
      fittedFrom: null,
      reason: t('copy.usualReason', { name: machine.name }),
    },
  });
  const copy = useApiChange(routes.machines.copy, { onDone: form.clearThen(({ data }) => onDone(data)) });
  return (
    <RecordForm
      form={form}
      groups={[{ fields: ['name', 'serial', 'siteId', 'stations', 'fittedFrom', 'reason'] }]}
      label={t('copy.machine', { name: machine.name })}
      submitText={t('copy.save')}
      isPending={copy.isPending}
      onSubmit={({ stations, fittedFrom, ...values }) => {
        const attempt = form.takeAttempt();
        copy.mutate(
          {
            params: { id: machine.id },
            idempotencyKey: attempt.key,
            body: {
              id: form.id,
              ...values,
              stations: stations.flatMap(({ id, name }) =>
                id === undefined ? [] : [{ id: idBeside(form.id, id), likeStationId: id, name }],
              ),
              fittedFrom: fittedFrom ?? attempt.at,
            },
          },
          { onError: form.takeFailure },
        );
      }}
    >
      <Notice role="status">{t('copy.machineTakes')}</Notice>
    </RecordForm>
  );
}
