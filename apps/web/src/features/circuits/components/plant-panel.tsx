'use client';

import { routes, type MachineOverview } from '@repo/contracts';
import { ChangePowerUnitForm, NewPowerUnitForm } from '@/features/power-units';
import { FormDialog } from '@/lib/forms';
import { useTranslate } from '@/lib/i18n/i18n';
import { late } from '@/lib/late';
import { useMachineOverview } from '@/lib/machine-overview';
import { Entered } from '@/lib/quantity/number';
import { useMay } from '@/lib/session/session';
import { FormActions } from '@/ui/field';
import { Panel } from '@/ui/panel';
import { Table } from '@/ui/table';

const NewCircuitForm = late(() => import('./circuit-form').then((file) => file.NewCircuitForm));
const ChangeCircuitForm = late(() => import('./circuit-form').then((file) => file.ChangeCircuitForm));
const CopyCircuitForm = late(() => import('./copy-circuit-form').then((file) => file.CopyCircuitForm));

/** Adds a power unit to the machine; for whoever may, and only today. */
export function AddPowerUnit({ machineId, look = 'quiet' }: { machineId: string; look?: 'strong' | 'quiet' }) {
  const t = useTranslate();
  const may = useMay();
  if (!may(routes.powerUnits.create)) return null;
  return (
    <FormDialog look={look} action={t('powerUnit.add')} title={t('powerUnit.add')}>
      {(close) => <NewPowerUnitForm machineId={machineId} onDone={close} />}
    </FormDialog>
  );
}

/** Adds a circuit; needs a power unit first. */
export function AddCircuit({ machineId, look = 'quiet' }: { machineId: string; look?: 'strong' | 'quiet' }) {
  const t = useTranslate();
  const may = useMay();
  const overview = useMachineOverview(machineId).query.data?.data;
  if (overview === undefined || overview.powerUnits.length === 0 || !may(routes.circuits.create)) return null;
  return (
    <FormDialog look={look} action={t('circuit.add')} title={t('circuit.add')}>
      {(close) => (
        <NewCircuitForm
          machine={overview.machine}
          powerUnits={overview.powerUnits}
          circuits={overview.circuits.map(({ circuit }) => circuit)}
          onDone={close}
        />
      )}
    </FormDialog>
  );
}

/** The power units, and how each is changed. */
function PowerUnitTable({ powerUnits, isToday }: { powerUnits: MachineOverview['powerUnits']; isToday: boolean }) {
  const t = useTranslate();
  const may = useMay();
  return (
    <Table
      caption={t('plant.units')}
      rows={powerUnits}
      rowKey={(unit) => unit.id}
      columns={[
        { key: 'name', title: t('components.powerUnit.label'), isName: true, cell: (unit) => unit.name },
        { key: 'drive', title: t('powerUnit.drive'), cell: (unit) => t(`powerUnit.drive.${unit.drive}`) },
        {
          key: 'air',
          title: t('powerUnit.plantAir'),
          cell: (unit) =>
            unit.plantAirLow === null && unit.plantAirHigh === null ? (
              t('value.notKnown')
            ) : (
              <>
                {unit.plantAirLow === null ? t('value.notKnown') : <Entered quantity={unit.plantAirLow} />} –{' '}
                {unit.plantAirHigh === null ? t('value.notKnown') : <Entered quantity={unit.plantAirHigh} />}
              </>
            ),
        },
        {
          key: 'change',
          title: t('table.actions'),
          isActions: true,
          cell: (unit) =>
            isToday && may(routes.powerUnits.update) ? (
              <FormDialog
                look="plain"
                action={t('plant.changeOf', { name: unit.name })}
                title={t('plant.changeOf', { name: unit.name })}
              >
                {(close) => <ChangePowerUnitForm unitId={unit.id} onDone={close} />}
              </FormDialog>
            ) : (
              ''
            ),
        },
      ]}
    />
  );
}

/** Changes a circuit, or makes another one like it. */
function CircuitActions({
  circuit,
  overview,
}: {
  circuit: MachineOverview['circuits'][number]['circuit'];
  overview: MachineOverview;
}) {
  const t = useTranslate();
  const may = useMay();
  return (
    <>
      {may(routes.circuits.update) ? (
        <FormDialog
          look="plain"
          action={t('plant.changeOf', { name: circuit.name })}
          title={t('plant.changeOf', { name: circuit.name })}
        >
          {(close) => <ChangeCircuitForm circuitId={circuit.id} powerUnits={overview.powerUnits} onDone={close} />}
        </FormDialog>
      ) : null}
      {may(routes.circuits.copy) ? (
        <FormDialog
          look="plain"
          action={t('copy.circuit', { name: circuit.name })}
          title={t('copy.circuit', { name: circuit.name })}
        >
          {(close) => <CopyCircuitForm circuit={circuit} overview={overview} onDone={close} />}
        </FormDialog>
      ) : null}
    </>
  );
}

/** Power units of a machine and the circuits that they feed. */
export function PlantPanel({ machineId }: { machineId: string }) {
  const t = useTranslate();
  const { query, day } = useMachineOverview(machineId);
  const overview = query.data?.data;
  if (overview === undefined || overview.powerUnits.length === 0) return null;
  const unitNames = new Map(overview.powerUnits.map((unit) => [unit.id, unit.name]));
  const isToday = day === null;
  return (
    <Panel title={t('plant.title')} id="plant">
      <PowerUnitTable powerUnits={overview.powerUnits} isToday={isToday} />
      {overview.circuits.length === 0 ? null : (
        <Table
          caption={t('plant.circuits')}
          rows={overview.circuits}
          rowKey={({ circuit }) => circuit.id}
          columns={[
            { key: 'name', title: t('fleet.circuit'), isName: true, cell: ({ circuit }) => circuit.name },
            { key: 'station', title: t('circuit.station'), cell: ({ circuit }) => circuit.stationName },
            {
              key: 'unit',
              title: t('components.powerUnit.label'),
              cell: ({ circuit }) => unitNames.get(circuit.powerUnitId) ?? '–',
            },
            {
              key: 'change',
              title: t('table.actions'),
              isActions: true,
              cell: ({ circuit }) => (isToday ? <CircuitActions circuit={circuit} overview={overview} /> : ''),
            },
          ]}
        />
      )}
      {isToday ? (
        <FormActions>
          <AddPowerUnit machineId={machineId} />
          <AddCircuit machineId={machineId} />
        </FormActions>
      ) : null}
    </Panel>
  );
}
