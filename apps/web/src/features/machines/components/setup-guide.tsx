'use client';

import type { MachineOverview } from '@repo/contracts';
import type { ReactNode } from 'react';
import { useTranslate } from '@/lib/i18n/i18n';
import { Button } from '@/ui/button';
import { Panel } from '@/ui/panel';
import styles from './setup-guide.module.css';

const STEPS = ['powerUnit', 'circuits', 'components', 'fixtures', 'operations', 'target', 'asLeft'] as const;
export type GuideStep = (typeof STEPS)[number];

/** Names of what still lacks a step; empty: the step is done. */
function listOpen({ machine, powerUnits, circuits, components }: MachineOverview): Record<GuideStep, string[]> {
  const named = (lacks: (entry: MachineOverview['circuits'][number]) => boolean): string[] =>
    circuits.length === 0 ? [machine.name] : circuits.filter(lacks).map(({ circuit }) => circuit.name);
  const bare = machine.stations.filter(({ id }) => !circuits.some(({ circuit }) => circuit.stationId === id));
  const emptyUnits = powerUnits.filter((unit) => !components.some(({ powerUnitId }) => powerUnitId === unit.id));
  return {
    powerUnit: powerUnits.length === 0 ? [machine.name] : [],
    circuits: bare.map(({ name }) => name),
    components: [
      ...emptyUnits.map(({ name }) => name),
      ...named(({ circuit }) => !components.some(({ circuitId }) => circuitId === circuit.id)),
    ],
    fixtures: named(({ fixture }) => fixture === null),
    operations: named(({ operations }) => operations.length === 0),
    target: named(({ target }) => target === null),
    asLeft: named(({ asLeft }) => asLeft === null),
  };
}

/** What a machine still lacks until it can be proven, in the order of the work; gone when nothing is lacking. */
export function SetupGuide({
  overview,
  actions,
  onShowSettings,
}: {
  overview: MachineOverview;
  actions: Readonly<Partial<Record<GuideStep, ReactNode>>>;
  onShowSettings: (circuitId: string) => void;
}) {
  const t = useTranslate();
  const open = listOpen(overview);
  const next = STEPS.find((step) => open[step].length > 0);
  if (next === undefined) return null;
  const bareOf = (step: 'target' | 'asLeft') => overview.circuits.filter((entry) => entry[step] === null).slice(0, 6);
  const done = STEPS.filter((step) => open[step].length === 0).length;
  return (
    <Panel title={t('guide.machine')} note={t('guide.done', { done, total: STEPS.length })}>
      <ol className={styles['steps']}>
        {STEPS.map((step, index) => {
          // Near the end only what is open is worth its room.
          if (done >= 4 && open[step].length === 0) return null;
          const state = open[step].length === 0 ? 'done' : step === next ? 'next' : 'later';
          return (
            <li key={step} data-state={state} aria-current={state === 'next' ? 'step' : undefined}>
              <span className={styles['mark']} aria-hidden="true">
                {state === 'done' ? '✓' : index + 1}
              </span>
              <span className={styles['words']}>
                <strong>{t(`guide.step.${step}`)}</strong> <small>{t(`guide.state.${state}`)}</small>
                {state === 'done' ? null : <span>{t(`guide.why.${step}`)}</span>}
                {state === 'next' && overview.circuits.length > 0 ? (
                  <span>{t('guide.lacking', { names: t.list(open[step].slice(0, 6)) })}</span>
                ) : null}
                {state === 'next' ? (
                  <span className={styles['act']}>
                    {step === 'target' || step === 'asLeft'
                      ? bareOf(step).map(({ circuit }) => (
                          <Button key={circuit.id} onClick={() => onShowSettings(circuit.id)}>
                            {t('settings.title', { name: circuit.name })}
                          </Button>
                        ))
                      : actions[step]}
                  </span>
                ) : null}
              </span>
            </li>
          );
        })}
      </ol>
    </Panel>
  );
}
