'use client';

import { routes, type Circuit, type Machine, type MCode, type Signal, type Wire } from '@repo/contracts';
import { useApi, useApiPages } from '@/lib/api/hooks';
import { FormDialog } from '@/lib/forms';
import { useTranslate } from '@/lib/i18n/i18n';
import { Entered } from '@/lib/quantity/number';
import { useMay } from '@/lib/session/session';
import { Loaded } from '@/lib/states';
import { Button } from '@/ui/button';
import { FormActions } from '@/ui/field';
import { Caution, StateNote } from '@/ui/notice';
import { PageHead, Panel } from '@/ui/panel';
import { StackedPanels } from '@/ui/stack';
import { Table, tableStyles, type Column } from '@/ui/table';
import { BehaviourForm } from './behaviour-form';
import { CodeForm, SignalForm, WireForm } from './control-forms';
import { CopyControl } from './copy-control';
import styles from './control.module.css';
import { InterlockPanel } from './interlock-panel';

interface Control {
  machine: Machine;
  circuits: readonly Circuit[];
  codes: readonly MCode[];
  signals: readonly Signal[];
  wires: readonly Wire[];
}

function CodesPanel({ machine, codes }: Control) {
  const t = useTranslate();
  const may = useMay();
  const stationName = (id: string | null) => machine.stations.find((station) => station.id === id)?.name ?? '–';
  const columns: Column<MCode>[] = [
    { key: 'code', title: t('control.code'), isName: true, cell: (row) => row.code },
    { key: 'action', title: t('control.action'), cell: (row) => t(`control.action.${row.action}`) },
    { key: 'station', title: t('circuit.station'), cell: (row) => stationName(row.stationId) },
    {
      key: 'waits',
      title: t('control.waitsForAnswer'),
      cell: (row) =>
        row.waitsForAnswer === null ? t('control.notSaid') : t(row.waitsForAnswer ? 'value.yes' : 'value.no'),
    },
    {
      key: 'timeOut',
      title: t('control.timeOut'),
      cell: (row) => (row.timeOut === null ? '–' : <Entered quantity={row.timeOut} kind="time" />),
    },
    {
      key: 'acts',
      title: t('table.actions'),
      isActions: true,
      cell: (row) =>
        may(routes.mCodes.update) ? (
          <FormDialog
            look="plain"
            action={t('control.changeOf', { name: row.code })}
            title={t('control.changeOf', { name: row.code })}
          >
            {(close) => <CodeForm machine={machine} code={row} onDone={close} />}
          </FormDialog>
        ) : null,
    },
  ];
  return (
    <Panel title={t('control.codes')}>
      {codes.length === 0 ? (
        <StateNote title={t('control.noCodes')}>{t('control.noCodesText')}</StateNote>
      ) : (
        <Table caption={t('control.codes')} rows={codes} rowKey={(row) => row.id} columns={columns} />
      )}
      {may(routes.mCodes.create) ? (
        <FormActions>
          <FormDialog action={t('control.addCode')} title={t('control.addCode')}>
            {(close) => <CodeForm machine={machine} onDone={close} />}
          </FormDialog>
        </FormActions>
      ) : null}
    </Panel>
  );
}

function WireList({ signal, wires }: { signal: Signal; wires: readonly Wire[] }) {
  const t = useTranslate();
  const may = useMay();
  const ampere = (value: number | null) => (value === null ? t('value.notKnown') : `${value} A`);
  const volt = (value: number | null) => (value === null ? t('value.notKnown') : `${value} V`);
  return (
    <details className={styles['wires']}>
      <summary>{t('control.wires', { count: wires.length })}</summary>
      <ul>
        {wires.map((wire) => (
          <li key={wire.id}>
            {t('control.wireFromTo', { number: wire.number, from: wire.fromTerminal, to: wire.toTerminal })}{' '}
            <span className={tableStyles['small']}>
              {wire.crossSection === null ? t('value.notKnown') : <Entered quantity={wire.crossSection} kind="area" />}
              {' · '}
              {wire.length === null ? t('value.notKnown') : <Entered quantity={wire.length} kind="length" />}
              {' · '}
              {t('control.protectedBy', { protection: ampere(wire.protectionA), limit: ampere(wire.conductorLimitA) })}
              {' · '}
              {t('control.insulatedFor', {
                insulation: volt(wire.insulationVoltageV),
                highest: volt(wire.highestInCableV),
              })}
            </span>
            {may(routes.wires.update) ? (
              <FormDialog
                look="plain"
                action={t('control.changeOf', { name: wire.number })}
                title={t('control.changeOf', { name: wire.number })}
              >
                {(close) => <WireForm signal={signal} wire={wire} onDone={close} />}
              </FormDialog>
            ) : null}
          </li>
        ))}
      </ul>
      {may(routes.wires.create) ? (
        <FormDialog
          look="plain"
          action={t('control.addWireTo', { name: signal.name })}
          title={t('control.addWireTo', { name: signal.name })}
        >
          {(close) => <WireForm signal={signal} onDone={close} />}
        </FormDialog>
      ) : null}
    </details>
  );
}

function SignalsPanel({ machine, circuits, codes, signals, wires }: Control) {
  const t = useTranslate();
  const may = useMay();
  const circuitName = (id: string | null) => circuits.find((circuit) => circuit.id === id)?.name ?? '–';
  const codeName = (id: string | null) => codes.find((code) => code.id === id)?.code ?? null;
  const acts = (row: Signal): string =>
    row.direction === 'output'
      ? [codeName(row.mCodeId), row.relay, row.actsOn === 'none' ? '' : t(`control.actsOn.${row.actsOn}`)]
          .filter((part) => part !== null && part !== '')
          .join(' → ') || '–'
      : [row.contact, row.alarm, row.reaction].filter((part) => part !== '').join(' → ') || '–';
  const columns: Column<Signal>[] = [
    {
      key: 'name',
      title: t('control.signal'),
      isName: true,
      cell: (row) => (row.address === '' ? row.name : `${row.name} · ${row.address}`),
    },
    { key: 'circuit', title: t('control.circuit'), cell: (row) => circuitName(row.circuitId) },
    { key: 'direction', title: t('control.direction'), cell: (row) => t(`control.direction.${row.direction}`) },
    { key: 'acts', title: t('control.does'), cell: acts },
    {
      key: 'wires',
      title: t('control.wiring'),
      cell: (row) => <WireList signal={row} wires={wires.filter(({ signalId }) => signalId === row.id)} />,
    },
    {
      key: 'change',
      title: t('table.actions'),
      isActions: true,
      cell: (row) =>
        may(routes.signals.update) ? (
          <FormDialog
            look="plain"
            action={t('control.changeOf', { name: row.name })}
            title={t('control.changeOf', { name: row.name })}
          >
            {(close) => (
              <SignalForm machineId={machine.id} circuits={circuits} codes={codes} signal={row} onDone={close} />
            )}
          </FormDialog>
        ) : null,
    },
  ];
  const byCircuit = [...signals].sort(
    (a, b) => circuitName(a.circuitId).localeCompare(circuitName(b.circuitId)) || a.name.localeCompare(b.name),
  );
  return (
    <Panel title={t('control.signals')}>
      {signals.length === 0 ? (
        <StateNote title={t('control.noSignals')}>{t('control.noSignalsText')}</StateNote>
      ) : (
        <Table caption={t('control.signals')} rows={byCircuit} rowKey={(row) => row.id} columns={columns} />
      )}
      {may(routes.signals.create) ? (
        <FormActions>
          <FormDialog action={t('control.addSignal')} title={t('control.addSignal')}>
            {(close) => <SignalForm machineId={machine.id} circuits={circuits} codes={codes} onDone={close} />}
          </FormDialog>
        </FormActions>
      ) : null}
    </Panel>
  );
}

function Shown({ machine }: { machine: Machine }) {
  const t = useTranslate();
  const may = useMay();
  const query = { machineId: machine.id, limit: 200 };
  const { items: circuits } = useApiPages(routes.circuits.list, { query });
  const { query: codesRead, items: codes } = useApiPages(routes.mCodes.list, { query });
  const { query: signalsRead, items: signals } = useApiPages(routes.signals.list, { query });
  const { items: wires } = useApiPages(routes.wires.list, { query });
  const inOrder = [...codes].sort((a, b) => a.code.localeCompare(b.code, undefined, { numeric: true }));
  const isBare = codesRead.isSuccess && signalsRead.isSuccess && codes.length + signals.length === 0;
  const control: Control = { machine, circuits, codes: inOrder, signals, wires };
  return (
    <>
      <PageHead
        crumbsLabel={t('nav.crumbs')}
        crumbs={[
          { name: machine.customerName, href: `/customers/${machine.customerId}` },
          { name: machine.name, href: `/machines/${machine.id}` },
        ]}
        title={t('control.title', { name: machine.name })}
        under={t('control.under')}
        actions={
          <>
            {may(routes.machines.update) ? (
              <FormDialog look="strong" action={t('control.sayBehaviour')} title={t('control.sayBehaviour')}>
                {(close) => <BehaviourForm machineId={machine.id} onDone={close} />}
              </FormDialog>
            ) : null}
            {isBare ? <CopyControl machine={machine} /> : null}
            <Button onClick={() => window.print()}>{t('portal.print')}</Button>
          </>
        }
      />
      <StackedPanels>
        <InterlockPanel machineId={machine.id} />
        <SignalsPanel {...control} />
        <CodesPanel {...control} />
        <Caution
          title={t('caution.title')}
          lines={[t('caution.lockOut'), t('caution.signals'), t('caution.cabinet')]}
        />
      </StackedPanels>
    </>
  );
}

/** How the control of a machine is wired, what it does, and whether that is sound. */
export function ControlPage({ machineId }: { machineId: string }) {
  const query = useApi(routes.machines.get, { params: { id: machineId } });
  return (
    <Loaded isPage query={query}>
      {({ data }) => <Shown machine={data} />}
    </Loaded>
  );
}
