'use client';

import { routes, type CircuitOverview, type Machine, type MachineOverview } from '@repo/contracts';
import { useRouter } from 'next/navigation';
import { useEffect, useMemo, useRef, useState, type ReactNode } from 'react';
import { FormDialog } from '@/lib/forms';
import { useDates, useTranslate, type Translate } from '@/lib/i18n/i18n';
import { useMachineOverview } from '@/lib/machine-overview';
import { CheckList } from '@/lib/pressure-ladder/check-list';
import { PressureLadderView } from '@/lib/pressure-ladder/pressure-ladder-view';
import { RungDetail } from '@/lib/pressure-ladder/rung-detail';
import { getWorst } from '@/lib/pressure-ladder/rungs';
import { UnitSwitch } from '@/lib/quantity/unit-switch';
import { isCustomerRole, useMay, useRole } from '@/lib/session/session';
import { late } from '@/lib/late';
import { Loaded } from '@/lib/states';
import { Status } from '@/lib/status/status';
import { getToday } from '@/lib/zoned-day';
import { Button, ButtonLink } from '@/ui/button';
import { TextField } from '@/ui/field';
import { LoadingNote, StateNote } from '@/ui/notice';
import { Segments } from '@/ui/segments';
import { PageHead, Panel } from '@/ui/panel';
import { Halves, MainAndAside, StackedPanels } from '@/ui/stack';
import { CopyMachine } from './copy-machine';
import { MachineSections, Section, SectionBar, useSections, type SectionId } from './machine-sections';
import { SetupGuide, type GuideStep } from './setup-guide';
import { Verdict } from './verdict';
import styles from './machine.module.css';

/** These come when their dialogs open. */
const ChangeMachineForm = late(() => import('./machine-form').then((file) => file.ChangeMachineForm));
const EndOfServiceForm = late(() => import('./end-of-service-form').then((file) => file.EndOfServiceForm));

export interface MachinePanels {
  settings: ReactNode;
  components: ReactNode;
  issues: ReactNode;
  sizing: ReactNode;
  events: ReactNode;
  plant: ReactNode;
  fixtures: ReactNode;
  counts: ReactNode;
  /** what does each step of the guide */
  guide: Readonly<Partial<Record<GuideStep, ReactNode>>>;
}

function toTitle(overview: MachineOverview, kind: 'title' | 'titlePast' | 'titleTarget', t: Translate): string {
  const status = getWorst(overview.circuits.map((circuit) => circuit.ladder.status));
  const key = overview.circuits.length === 0 ? 'none' : status;
  return t(`machine.${kind}.${key}`, { name: overview.machine.name });
}

function useUnder(machine: Machine): string {
  const t = useTranslate();
  const dates = useDates();
  return [
    machine.description,
    machine.form === 'pallets' ? t('machine.pallets', { count: machine.stations.length }) : t('machine.singleStation'),
    t(`machine.wayIn.${machine.wayIn}`),
    machine.inServiceOn === null ? '' : t('machine.inService', { date: dates.onDay(machine.inServiceOn) }),
    machine.disposition === 'in-service' ? '' : t(`machine.disposition.${machine.disposition}`),
  ]
    .filter((part) => part !== '')
    .join(' · ');
}

function DayAndBasis({ machineId, timeZone }: { machineId: string; timeZone: string }) {
  const t = useTranslate();
  const { day, basis, url } = useMachineOverview(machineId);
  // Which day it is there matters to whoever chooses one; asking takes a phone as long as drawing the pressure ladder.
  const [today, setToday] = useState<string>();
  return (
    <div className={styles['bar']}>
      <Segments<'as-left' | 'target'>
        label={t('machine.basis')}
        value={basis}
        choices={[
          { value: 'as-left', label: t('machine.basis.asLeft') },
          { value: 'target', label: t('machine.basis.target') },
        ]}
        onChange={(value) => url.set({ basis: value === 'target' ? value : null })}
      />
      <TextField
        type="date"
        label={t('machine.asOn')}
        max={today}
        onFocus={() => setToday(getToday(timeZone))}
        onPointerEnter={() => setToday(getToday(timeZone))}
        value={day ?? ''}
        onChange={(value) => url.set({ on: value })}
      />
      {day === null ? null : <Button onClick={() => url.set({ on: null })}>{t('machine.today')}</Button>}
      <UnitSwitch />
    </div>
  );
}

function CircuitPicker({
  circuits,
  selectedId,
  onSelect,
}: {
  circuits: readonly CircuitOverview[];
  selectedId: string;
  onSelect: (id: string) => void;
}) {
  const t = useTranslate();
  if (circuits.length < 2) return null;
  return (
    <div className={styles['pick']} role="group" aria-label={t('machine.pickCircuit')}>
      {circuits.map(({ circuit, ladder }) => (
        <button
          key={circuit.id}
          type="button"
          aria-pressed={circuit.id === selectedId}
          onClick={() => onSelect(circuit.id)}
        >
          {circuit.name}
          <Status status={ladder.status} />
        </button>
      ))}
    </div>
  );
}

function useSettingsNote(overview: CircuitOverview | null, timeZone: string): string {
  const t = useTranslate();
  const dates = useDates();
  if (overview === null) return '';
  const { basis, on, revision } = overview.settings;
  if (basis === 'none' || on === null) return t('machine.settings.none');
  return t(`machine.settings.${basis}`, { date: dates.atDay(on, timeZone), revision: revision ?? '' });
}

function PressureLadderPanel({ overview, machineId }: { overview: MachineOverview; machineId: string }) {
  const t = useTranslate();
  const dates = useDates();
  const { circuit, url } = useMachineOverview(machineId);
  const { timeZone } = overview.machine;
  const note = useSettingsNote(circuit, timeZone);
  const drawn = useMemo(
    () =>
      overview.circuits.map((entry) => ({
        id: entry.circuit.id,
        title: entry.circuit.name,
        subtitle:
          entry.fixture === null
            ? t('machine.noFixture')
            : t('machine.fixtureSince', {
                name: entry.fixture.name,
                date: dates.atDay(entry.fixture.validFrom, timeZone),
              }),
        ladder: entry.ladder,
      })),
    [overview.circuits, t, dates, timeZone],
  );
  const rungId = url.get('rung');
  const selected = rungId !== null && circuit !== null ? { circuitId: circuit.circuit.id, rungId } : null;
  const detail = useRef<HTMLDivElement>(null);
  return (
    <Panel title={t('pressureLadder.title')} note={note}>
      <PressureLadderView
        circuits={drawn}
        selected={selected}
        onSelect={(rung) => {
          url.set({ circuit: rung.circuitId, rung: rung.rungId }, rung.circuitId === circuit?.circuit.id);
          requestAnimationFrame(() => detail.current?.scrollIntoView({ block: 'nearest' }));
        }}
      />
      <div ref={detail} role="status" className={selected === null ? undefined : styles['detail']}>
        {selected === null || circuit === null ? null : (
          <RungDetail ladder={circuit.ladder} rungId={selected.rungId} of={circuit.circuit.name} />
        )}
      </div>
    </Panel>
  );
}

/** "Is it set right?" */
export function MachinePage({ machineId, panels }: { machineId: string; panels: MachinePanels }) {
  const t = useTranslate();
  const router = useRouter();
  const isCustomer = isCustomerRole(useRole());
  useEffect(() => {
    if (isCustomer) router.replace(`/portal/machines/${machineId}`);
  }, [isCustomer, machineId, router]);
  return isCustomer ? (
    <LoadingNote text={t('state.loading')} />
  ) : (
    <StaffMachinePage machineId={machineId} panels={panels} />
  );
}

function StaffMachinePage({ machineId, panels }: { machineId: string; panels: MachinePanels }) {
  const { query } = useMachineOverview(machineId);
  return (
    <Loaded isPage query={query}>
      {({ data }) => (
        <MachineSections expected={listSections(data)}>
          <Shown overview={data} panels={panels} />
        </MachineSections>
      )}
    </Loaded>
  );
}

const OF_CIRCUITS: readonly SectionId[] = ['ladder', 'checks', 'issues', 'settings', 'counts'];

/** The sections of a machine, in the order of the page. */
function listSections({ circuits, powerUnits }: MachineOverview): SectionId[] {
  return [
    ...(circuits.length === 0 ? [] : OF_CIRCUITS),
    'plant',
    ...(powerUnits.length === 0 ? [] : (['components'] as const)),
    ...(['fixtures', 'sizing', 'events'] as const),
  ];
}

function Changes({ machine }: { machine: Machine }) {
  const t = useTranslate();
  const may = useMay();
  if (!may(routes.machines.update)) return null;
  return (
    <>
      <FormDialog action={t('machine.change')} title={t('machine.changeOf', { name: machine.name })}>
        {(close) => <ChangeMachineForm machineId={machine.id} onDone={close} />}
      </FormDialog>
      <CopyMachine machine={machine} />
      <FormDialog action={t('machine.end')} title={t('machine.endOf', { name: machine.name })}>
        {(close) => <EndOfServiceForm machineId={machine.id} onDone={close} />}
      </FormDialog>
    </>
  );
}

/** Pressure ladder, checks and issues of the circuit that is chosen. */
function OfCircuit({
  overview,
  circuit,
  issues,
}: {
  overview: MachineOverview;
  circuit: CircuitOverview;
  issues: ReactNode;
}) {
  const t = useTranslate();
  const { url } = useMachineOverview(overview.machine.id);
  return (
    <MainAndAside
      main={
        <Section id="ladder">
          <PressureLadderPanel overview={overview} machineId={overview.machine.id} />
        </Section>
      }
      aside={
        <>
          <Section id="checks">
            <Panel title={t('machine.checksOf', { name: circuit.circuit.name })}>
              <CircuitPicker
                circuits={overview.circuits}
                selectedId={circuit.circuit.id}
                onSelect={(id) => url.set({ circuit: id, rung: null })}
              />
              <CheckList checks={circuit.ladder.checks} />
            </Panel>
          </Section>
          <Section id="issues">{issues}</Section>
        </>
      }
    />
  );
}

/** What is set and counted at the circuit; what the machine consists of; what was computed and done. */
function PlantAndHistory({
  overview,
  circuit,
  panels,
}: {
  overview: MachineOverview;
  circuit: CircuitOverview | null;
  panels: MachinePanels;
}) {
  return (
    <div className={styles['panels']}>
      <StackedPanels>
        {circuit === null ? null : <Section id="settings">{panels.settings}</Section>}
        {circuit === null ? null : <Section id="counts">{panels.counts}</Section>}
        <Section id="plant">{panels.plant}</Section>
        {overview.powerUnits.length === 0 ? null : <Section id="components">{panels.components}</Section>}
        <Section id="fixtures">{panels.fixtures}</Section>
        <Halves>
          <Section id="sizing">{panels.sizing}</Section>
          <Section id="events">{panels.events}</Section>
        </Halves>
      </StackedPanels>
    </div>
  );
}

/** By itself, since it knows the sections: what knows them is drawn again whenever one opens, and when the page learns its width. */
function Guide({ overview, actions }: { overview: MachineOverview; actions: MachinePanels['guide'] }) {
  const { url } = useMachineOverview(overview.machine.id);
  const { jump } = useSections();
  return (
    <SetupGuide
      overview={overview}
      actions={actions}
      onShowSettings={(id) => {
        url.set({ circuit: id, rung: null });
        jump('settings');
      }}
    />
  );
}

function Shown({ overview, panels }: { overview: MachineOverview; panels: MachinePanels }) {
  const t = useTranslate();
  const dates = useDates();
  const { machine, circuits } = overview;
  const { circuit, day, basis, asOn, url } = useMachineOverview(machine.id);
  const title = toTitle(overview, basis === 'target' ? 'titleTarget' : day === null ? 'title' : 'titlePast', t);
  const under = useUnder(machine);
  useEffect(() => {
    document.title = `${title} · ${t('app.name')}`;
  }, [title, t]);

  return (
    <>
      <PageHead
        crumbsLabel={t('nav.crumbs')}
        crumbs={[
          { name: machine.customerName, href: `/customers/${machine.customerId}` },
          { name: machine.siteName, href: `/sites/${machine.siteId}` },
        ]}
        title={title}
        under={under}
        actions={
          <>
            <ButtonLink href={`/portal/machines/${machine.id}`}>{t('machine.setupRecord')}</ButtonLink>
            <ButtonLink href={`/machines/${machine.id}/control`}>{t('control.link')}</ButtonLink>
            {day === null ? <Changes machine={machine} /> : null}
          </>
        }
      />
      {day === null ? null : (
        <p className={styles['past']}>{t('machine.past', { date: dates.onDay(day), place: machine.place })}</p>
      )}
      <Verdict circuits={circuits} timeZone={machine.timeZone} view={{ asOn: overview.asOn, basis, day: asOn }} />
      {overview.silentSince === null || day !== null ? null : (
        <p className={styles['past']} role="status">
          {t('machine.silent', { time: dates.atTime(overview.silentSince, machine.timeZone) })}
        </p>
      )}
      {circuit === null ? null : <DayAndBasis machineId={machine.id} timeZone={machine.timeZone} />}
      {day === null && machine.disposition === 'in-service' ? (
        <div className={styles['guide']}>
          <Guide overview={overview} actions={panels.guide} />
        </div>
      ) : null}
      <SectionBar />
      {circuit === null ? (
        day === null ? null : (
          <StateNote
            title={t('machine.noCircuits')}
            actions={<Button onClick={() => url.set({ on: null })}>{t('machine.today')}</Button>}
          >
            {t('machine.noCircuitsText')}
          </StateNote>
        )
      ) : (
        <OfCircuit overview={overview} circuit={circuit} issues={panels.issues} />
      )}
      <PlantAndHistory overview={overview} circuit={circuit} panels={panels} />
    </>
  );
}
