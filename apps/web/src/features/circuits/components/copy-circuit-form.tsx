'use client';

import { routes, type Circuit, type MachineOverview } from '@repo/contracts';
import { useMemo } from 'react';
import { useApiChange } from '@/lib/api/hooks';
import { readCircuitNumber, toCopiedDesignation } from '@/lib/copied-designation';
import { choice, moment, RecordForm, text, useRecordForm } from '@/lib/forms';
import { useTranslate } from '@/lib/i18n/i18n';
import { Notice } from '@/ui/notice';

/** Designations of the copied components by the circuit's number; those that are taken; the first number that is free. */
function toDesignations(overview: MachineOverview, fitted: MachineOverview['components']) {
  const designate = (number: string) =>
    fitted.map(({ id, designation }) => ({
      likeComponentId: id,
      designation: toCopiedDesignation(designation, number),
    }));
  const taken = new Set(overview.components.map(({ designation }) => designation));
  const isFree = (number: string): boolean => designate(number).every(({ designation }) => !taken.has(designation));
  let free = Number(readCircuitNumber(fitted.map(({ designation }) => designation)) ?? 1) + 1;
  while (free < 1000 && !isFree(String(free))) free += 1;
  return { designate, taken, free };
}

/** What differs on a second like circuit of the machine, asked once; the first station that has none is offered. */
export function CopyCircuitForm({
  circuit,
  overview,
  onDone,
}: {
  circuit: Circuit;
  overview: MachineOverview;
  onDone: () => void;
}) {
  const t = useTranslate();
  const { machine, powerUnits, circuits } = overview;
  const fitted = overview.components.filter(({ circuitId }) => circuitId === circuit.id);
  const bare = machine.stations.find(({ id }) => !circuits.some((other) => other.circuit.stationId === id));
  const station = bare ?? machine.stations.find(({ id }) => id === circuit.stationId);
  const fields = useMemo(
    () => ({
      name: text({ label: 'circuit.name', hint: 'circuit.nameHint', isRequired: true, maxLength: 120 }),
      stationId: choice({
        label: 'circuit.station',
        choices: machine.stations.map(({ id, name }) => ({ value: id, label: name })),
      }),
      powerUnitId: choice({
        label: 'components.powerUnit.label',
        choices: powerUnits.map(({ id, name }) => ({ value: id, label: name })),
      }),
      number: text({ label: 'copy.circuitNumber', hint: 'copy.circuitNumberHint', isRequired: true, maxLength: 8 }),
      fittedFrom: moment({ label: 'copy.fittedFrom', hint: 'form.emptyIsNow', timeZone: machine.timeZone }),
      reason: text({ label: 'copy.reason', hint: 'copy.reasonHint', isRequired: true, maxLength: 400 }),
    }),
    [machine, powerUnits],
  );
  const { designate, taken, free } = toDesignations(overview, fitted);
  const form = useRecordForm({
    name: `circuit-copy-${circuit.id}`,
    fields,
    initial: {
      // Where every station has a circuit, a name of its own is asked for.
      name: bare?.name ?? '',
      stationId: station?.id ?? '',
      powerUnitId: circuit.powerUnitId,
      number: String(free),
      fittedFrom: null,
      reason: t('copy.usualReason', { name: `${machine.name}, ${circuit.name}` }),
    },
    check: ({ number }) => {
      const clash = designate(number).find(({ designation }) => taken.has(designation));
      return clash === undefined
        ? []
        : [{ field: 'number', text: t('copy.circuitNumberTaken', { designation: clash.designation }) }];
    },
  });
  const copy = useApiChange(routes.circuits.copy, { onDone: form.clearThen(onDone) });
  return (
    <RecordForm
      form={form}
      groups={[{ fields: ['name', 'stationId', 'powerUnitId', 'number', 'fittedFrom', 'reason'] }]}
      label={t('copy.circuit', { name: circuit.name })}
      submitText={t('copy.save')}
      isPending={copy.isPending}
      onSubmit={({ number, fittedFrom, ...values }) => {
        const attempt = form.takeAttempt();
        copy.mutate(
          {
            params: { id: circuit.id },
            idempotencyKey: attempt.key,
            body: {
              id: form.id,
              ...values,
              designations: designate(number),
              fittedFrom: fittedFrom ?? attempt.at,
            },
          },
          { onError: form.takeFailure },
        );
      }}
    >
      <Notice role="status">{t('copy.circuitTakes')}</Notice>
    </RecordForm>
  );
}
