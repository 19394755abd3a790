'use client';

import { routes, type InstalledComponent, type MachineOverview, type Standing } from '@repo/contracts';
import { useState } from 'react';
import { useApiChange } from '@/lib/api/hooks';
import { toCopiedDesignation } from '@/lib/copied-designation';
import { choice, combo, moment, RecordForm, text, useRecordForm } from '@/lib/forms';
import { useTranslate, type Translate } from '@/lib/i18n/i18n';
import { useMachineOverview } from '@/lib/machine-overview';
import { useSearchedChoices } from '@/lib/searched-list';
import { Notice } from '@/ui/notice';
import { useLikeComponents } from '../like-circuits';

type Choices = ReturnType<typeof useSearchedChoices>;

const ALL = { status: 'all' };
const toChoice = ({ circuitId, circuitName, machineName, customerName }: Standing) => ({
  value: circuitId,
  label: `${machineName}, ${circuitName} · ${customerName}`,
});

const getFields = (
  { machine, powerUnits, circuits }: MachineOverview,
  { choices, setSearch }: Choices,
  t: Translate,
) => ({
  ontoId: choice({
    label: 'copy.onto',
    choices: [
      ...circuits.map(({ circuit }) => ({ value: circuit.id, label: circuit.name })),
      ...powerUnits.map(({ id, name }) => ({ value: id, label: name })),
    ],
  }),
  likeId: combo({
    label: 'copy.likeCircuit',
    hint: 'copy.likeCircuitHint',
    isRequired: true,
    choices,
    onSearch: setSearch,
    emptyText: t('copy.noCircuitFits'),
  }),
  number: text({ label: 'copy.circuitNumber', hint: 'copy.componentsNumberHint', maxLength: 8 }),
  fittedFrom: moment({ label: 'copy.fittedFrom', hint: 'form.emptyIsNow', timeZone: machine.timeZone }),
  reason: text({ label: 'copy.reason', hint: 'copy.componentsReasonHint', isRequired: true, maxLength: 400 }),
});

const designate = (components: readonly InstalledComponent[], number: string) =>
  components.map(({ id, designation }) => ({
    likeComponentId: id,
    designation: number === '' ? designation : toCopiedDesignation(designation, number),
  }));

/** The first place of the machine at which nothing is fitted. */
function findBare({ circuits, powerUnits, components }: MachineOverview): string | undefined {
  const places = [...circuits.map(({ circuit }) => circuit.id), ...powerUnits.map(({ id }) => id)];
  return places.find((id) => !components.some(({ circuitId, powerUnitId }) => circuitId === id || powerUnitId === id));
}

function CopyForm({ overview, onDone }: { overview: MachineOverview; onDone: () => void }) {
  const t = useTranslate();
  const [likeId, setLikeId] = useState('');
  const like = useLikeComponents(likeId);
  const isUnit = (id: string): boolean => overview.powerUnits.some((unit) => unit.id === id);
  const findFitted = (ontoId: string) => (isUnit(ontoId) ? like.ofPowerUnit : (like.ofCircuit ?? []));
  const taken = new Set(overview.components.map(({ designation }) => designation));
  const form = useRecordForm({
    name: `components-copy-${overview.machine.id}`,
    fields: getFields(overview, useSearchedChoices(routes.standings.list, ALL, toChoice), t),
    initial: {
      ontoId: findBare(overview) ?? overview.circuits[0]?.circuit.id ?? '',
      likeId: '',
      number: '',
      fittedFrom: null,
      reason: t('copy.componentsReason'),
    },
    check: ({ ontoId, number }) => {
      const fitted = findFitted(ontoId);
      if (like.ofCircuit === null) return [];
      if (fitted.length === 0) return [{ field: 'likeId', text: t('copy.noComponents') }];
      const clash = designate(fitted, number).find(({ designation }) => taken.has(designation));
      return clash === undefined
        ? []
        : [{ field: 'number', text: t('copy.circuitNumberTaken', { designation: clash.designation }) }];
    },
  });
  if (form.drafts.likeId !== likeId) setLikeId(form.drafts.likeId);
  const done = { onDone: form.clearThen(onDone) };
  const ofCircuit = useApiChange(routes.installedComponents.copyOfCircuit, done);
  const ofPowerUnit = useApiChange(routes.installedComponents.copyOfPowerUnit, done);
  const fitted = findFitted(form.drafts.ontoId);
  return (
    <RecordForm
      form={form}
      groups={[{ fields: ['ontoId', 'likeId', 'number', 'fittedFrom', 'reason'] }]}
      label={t('copy.components')}
      cautions={[t('caution.lockOut'), t('caution.bothLines'), t('caution.ratingUnknown')]}
      submitText={t('copy.save')}
      isPending={ofCircuit.isPending || ofPowerUnit.isPending || (likeId !== '' && like.ofCircuit === null)}
      onSubmit={({ ontoId, number, fittedFrom, reason }) => {
        const attempt = form.takeAttempt();
        const body = {
          id: form.id,
          designations: designate(findFitted(ontoId), number),
          fittedFrom: fittedFrom ?? attempt.at,
          reason,
        };
        const call = { idempotencyKey: attempt.key };
        const onError = { onError: form.takeFailure };
        if (isUnit(ontoId)) {
          const params = { id: like.powerUnitId };
          ofPowerUnit.mutate({ ...call, params, body: { ...body, powerUnitId: ontoId } }, onError);
        } else {
          ofCircuit.mutate({ ...call, params: { id: likeId }, body: { ...body, circuitId: ontoId } }, onError);
        }
      }}
    >
      <Notice role="status">
        {fitted.length === 0
          ? t('copy.componentsTakes')
          : t('copy.componentsAre', {
              count: fitted.length,
              designations: fitted.map(({ designation }) => designation).join(', '),
            })}
      </Notice>
    </RecordForm>
  );
}

/** The components of a like circuit, or of its power unit, fitted once more on this machine. */
export function CopyComponentsForm({ machineId, onDone }: { machineId: string; onDone: () => void }) {
  const { data, isFetching } = useMachineOverview(machineId).query;
  const [isRead, setRead] = useState(false);
  // Just after a change the machine is still being read again: what was fitted a moment ago would be offered as bare.
  if (!isRead && !isFetching && data !== undefined) setRead(true);
  return !isRead || data === undefined ? null : <CopyForm overview={data.data} onDone={onDone} />;
}
