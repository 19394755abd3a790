'use client';

import { routes, type ComponentKind, type InstalledComponent, type MachineOverview } from '@repo/contracts';
import { useMemo } from 'react';
import { useApiChange } from '@/lib/api/hooks';
import { useComponentTypes } from '@/lib/component-types';
import { checks, choice, combo, day, moment, RecordForm, text, tristate, useRecordForm } from '@/lib/forms';
import { useTranslate } from '@/lib/i18n/i18n';
import { useMachineOverview } from '@/lib/machine-overview';
import { Button } from '@/ui/button';
import { suggestDesignation } from '../designation';

const LINES = ['supply', 'tank', 'clamp', 'unclamp'] as const;
const SENSINGS = ['pump', 'manifold', 'clamp-line'] as const;

interface Place {
  value: string;
  label: string;
}

function listPlaces(overview: MachineOverview): Place[] {
  return [
    ...overview.powerUnits.map((unit) => ({ value: unit.id, label: unit.name })),
    ...overview.circuits.map(({ circuit }) => ({ value: circuit.id, label: circuit.name })),
  ];
}

/** The designation that follows from the place; a power unit is the first circuit of its machine. */
function useSuggestion(overview: MachineOverview) {
  const components = overview.components.map((component) => ({
    designation: component.designation,
    placeId: component.circuitId ?? component.powerUnitId ?? '',
  }));
  const places = listPlaces(overview);
  return (placeId: string): string =>
    suggestDesignation(
      components,
      placeId,
      Math.max(
        0,
        places.findIndex(({ value }) => value === placeId),
      ) + 1,
    );
}

type Types = ReturnType<typeof useComponentTypes>;

/** What is asked of a component that is fitted. */
function useFitFields(
  types: Types['types'],
  setSearch: Types['setSearch'],
  places: readonly Place[],
  { timeZone, isExchange }: { timeZone: string; isExchange: boolean },
) {
  const t = useTranslate();
  const typeChoices = useMemo(
    () =>
      [...types.values()].map((type) => ({
        value: type.id,
        label: [type.name, t.find(`componentKind.${type.kind}`) ?? type.kind, type.partNumber]
          .filter((part) => part !== '')
          .join(' · '),
      })),
    [types, t],
  );
  return {
    componentTypeId: combo({
      label: 'components.type',
      hint: 'components.typeHint',
      isRequired: true,
      choices: typeChoices,
      onSearch: setSearch,
      emptyText: t('componentTypes.noneText'),
    }),
    placeId: choice({ label: 'components.place', choices: places }),
    designation: text({
      label: 'components.designation',
      hint: 'components.designationHint',
      isRequired: true,
      maxLength: 40,
    }),
    lineFunctions: checks({
      label: 'components.lines',
      hint: 'components.linesHint',
      choices: LINES.map((value) => ({ value, label: t(`components.line.${value}`) })),
    }),
    sensing: choice({
      label: 'components.sensing',
      hint: 'components.sensingHint',
      choices: [
        { value: 'none', label: t('components.sensing.none') },
        ...SENSINGS.map((value) => ({ value, label: t(`components.sensing.${value}`) })),
      ],
    }),
    isBeyondShutOff: tristate({
      label: 'components.isBeyondShutOff',
      hint: 'components.isBeyondShutOffHint',
      words: [t('value.yes'), t('value.no'), t('value.notKnown')],
    }),
    serial: text({ label: 'machine.serial' }),
    lot: text({ label: 'components.lot' }),
    madeOn: day({ label: 'components.madeOn', hint: 'components.madeOnHint' }),
    validFrom: moment({ label: 'components.fittedAt', hint: 'form.emptyIsNow', timeZone }),
    reason: text({ label: 'settings.reason', isRequired: isExchange }),
  };
}

function Suggestion({ text: suggestion, onTake }: { text: string; onTake: () => void }) {
  const t = useTranslate();
  return (
    <p>
      {t('components.suggestion')}{' '}
      <Button look="plain" onClick={onTake}>
        {suggestion}
      </Button>
    </p>
  );
}

/** Of which kind of place, where it is asked; the first that has none, else where one already is. */
function findFirstPlace(
  overview: MachineOverview,
  replaces: InstalledComponent | null,
  circuitId: string | undefined,
  places: readonly Place[],
): string {
  const unitWithout = overview.powerUnits.find(
    (unit) => !overview.components.some(({ powerUnitId }) => powerUnitId === unit.id),
  );
  return replaces?.circuitId ?? replaces?.powerUnitId ?? unitWithout?.id ?? circuitId ?? places[0]?.value ?? '';
}

const CAUTIONS = ['caution.lockOut', 'caution.bothLines', 'caution.skin', 'caution.ratingUnknown'] as const;

/** On which side of a shut-off it sits matters: of a relief or a switch in the clamp line, and of a hose of the supply beside a check valve there. */
function isAskedBeyond(
  kind: ComponentKind | undefined,
  { lineFunctions, sensing }: { lineFunctions: readonly string[]; sensing: string },
): boolean {
  if (kind === 'hose') return lineFunctions.includes('supply') && !lineFunctions.includes('clamp');
  const isInLine = kind === 'relief-valve' || (kind === 'pressure-switch' && sensing === 'clamp-line');
  return isInLine && lineFunctions.includes('clamp');
}

/** Fits a component, or puts one into the place of another. */
function FitForm({
  overview,
  replaces,
  onDone,
}: {
  overview: MachineOverview;
  replaces: InstalledComponent | null;
  onDone: () => void;
}) {
  const t = useTranslate();
  const { machine } = overview;
  const { circuit } = useMachineOverview(machine.id);
  const { types, setSearch } = useComponentTypes();
  const suggest = useSuggestion(overview);
  const places = listPlaces(overview);
  const firstPlace = findFirstPlace(overview, replaces, circuit?.circuit.id, places);
  const fields = useFitFields(types, setSearch, places, { timeZone: machine.timeZone, isExchange: replaces !== null });
  const form = useRecordForm({
    name: replaces === null ? `fit-${machine.id}` : `exchange-${replaces.id}`,
    fields,
    initial: {
      componentTypeId: replaces?.componentTypeId ?? '',
      placeId: firstPlace,
      designation: replaces?.designation ?? suggest(firstPlace),
      lineFunctions: replaces?.lineFunctions ?? [],
      sensing: replaces?.sensing ?? 'none',
      isBeyondShutOff: replaces?.isBeyondShutOff ?? null,
      serial: '',
      lot: '',
      madeOn: null,
      validFrom: null,
      reason: '',
    },
  });
  const create = useApiChange(routes.installedComponents.create, {
    onDone: form.clearThen(onDone),
  });
  const kind = types.get(form.drafts.componentTypeId)?.kind;
  const asksSensing = kind === 'pressure-switch';
  const asksBeyond = isAskedBeyond(kind, form.drafts);
  const suggestion = suggest(form.drafts.placeId);
  const isAccumulator = [kind, replaces?.kind].includes('accumulator');
  return (
    <RecordForm
      form={form}
      groups={[
        { fields: ['componentTypeId', ...(replaces === null ? (['placeId'] as const) : []), 'designation'] },
        {
          fields: [
            'lineFunctions',
            ...(asksSensing ? (['sensing'] as const) : []),
            ...(asksBeyond ? (['isBeyondShutOff'] as const) : []),
          ],
        },
        { fields: ['serial', 'lot', 'madeOn', 'validFrom', 'reason'] },
      ]}
      label={replaces === null ? t('components.fit') : t('components.exchange')}
      cautions={[...(isAccumulator ? [t('caution.accumulator')] : []), ...CAUTIONS.map((key) => t(key))]}
      submitText={replaces === null ? t('components.fit') : t('components.exchange')}
      isPending={create.isPending}
      onSubmit={({ placeId, sensing, isBeyondShutOff, validFrom, ...values }) => {
        const isUnit = overview.powerUnits.some(({ id }) => id === placeId);
        const attempt = form.takeAttempt();
        create.mutate(
          {
            idempotencyKey: attempt.key,
            body: {
              id: form.id,
              machineId: machine.id,
              powerUnitId: isUnit ? placeId : null,
              circuitId: isUnit ? null : placeId,
              ...values,
              sensing: asksSensing && sensing !== 'none' ? sensing : null,
              isBeyondShutOff: asksBeyond ? isBeyondShutOff : null,
              validFrom: validFrom ?? attempt.at,
              replacesId: replaces?.id ?? null,
            },
          },
          { onError: form.takeFailure },
        );
      }}
    >
      {replaces === null && form.drafts.designation !== suggestion ? (
        <Suggestion text={suggestion} onTake={() => form.setField('designation', suggestion)} />
      ) : null}
    </RecordForm>
  );
}

/** The form over the machine as it is now. */
export function FitComponentForm({
  machineId,
  replaces = null,
  onDone,
}: {
  machineId: string;
  replaces?: InstalledComponent | null;
  onDone: () => void;
}) {
  const overview = useMachineOverview(machineId).query.data?.data;
  return overview === undefined ? null : <FitForm overview={overview} replaces={replaces} onDone={onDone} />;
}
