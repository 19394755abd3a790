'use client';

import type { FieldDescription } from '@repo/calc';
import { toPressureLadder, type PressureLadder } from '@repo/contracts';
import { useEffect, useMemo, useState } from 'react';
import { useTranslate } from '@/lib/i18n/i18n';
import { CheckList } from '@/lib/pressure-ladder/check-list';
import { PressureLadderView, type SelectedRung } from '@/lib/pressure-ladder/pressure-ladder-view';
import { RungDetail } from '@/lib/pressure-ladder/rung-detail';
import { UnitSwitch } from '@/lib/quantity/unit-switch';
import { Caution, StateNote } from '@/ui/notice';
import { PageHead, Panel } from '@/ui/panel';
import { MainAndAside, StackedPanels } from '@/ui/stack';
import { toPathTitle, upperFirst } from '../field-titles';
import { fromInputs, toBlankDrafts, type Drafts } from '../forms';
import {
  HAND_PRESSURE_LADDER,
  PRESSURE_LADDER_FIELDS,
  PRESSURE_LADDER_GROUPS,
  readPressureLadder,
} from '../hand-pressure-ladder';
import { readLinkedInputs, writeLinkedInputs } from '../link';
import { useWork } from '../work/use-work';
import { CalculationFields, pickSaid } from './calculation-fields';
import styles from './calculations.module.css';

const PAUSE_MS = 250;

function Drawn({ ladder }: { ladder: PressureLadder }) {
  const t = useTranslate();
  const [selected, setSelected] = useState<SelectedRung | null>(null);
  const circuits = useMemo(
    () => [{ id: HAND_PRESSURE_LADDER, title: t('handPressureLadder.circuit'), subtitle: null, ladder }],
    [ladder, t],
  );
  return (
    <>
      <PressureLadderView circuits={circuits} selected={selected} onSelect={setSelected} />
      <div role="status">{selected === null ? null : <RungDetail ladder={ladder} rungId={selected.rungId} />}</div>
    </>
  );
}

/** The pressure ladder of a circuit that nobody has recorded: its figures are typed, and drawn as one types. */
export function HandPressureLadderPage() {
  const t = useTranslate();
  const [drafts, setDrafts] = useState<Drafts>(() => toBlankDrafts(PRESSURE_LADDER_FIELDS));
  // The server, which draws the page first, knows nothing of what a link holds behind the #.
  useEffect(() => {
    const linked = readLinkedInputs();
    if (linked !== null) setDrafts(fromInputs(PRESSURE_LADDER_FIELDS, linked));
  }, []);
  const { inputs, unread, input } = useMemo(() => readPressureLadder(drafts, t), [drafts, t]);
  const linkText = useMemo(() => JSON.stringify(inputs), [inputs]);
  const [asked, setAsked] = useState<string | null>(null);
  useEffect(() => {
    const timer = setTimeout(() => {
      setAsked(input === null ? null : JSON.stringify(input));
      if (linkText !== '{}') writeLinkedInputs(linkText);
    }, PAUSE_MS);
    return () => clearTimeout(timer);
  }, [input, linkText]);
  const { work } = useWork('ladder', HAND_PRESSURE_LADDER, asked);
  const last = work.state === 'done' ? work.reply : work.state === 'running' ? work.last : null;
  const ladder = useMemo(() => (last?.kind === 'ladder' ? toPressureLadder(last.ladder) : null), [last]);
  const described = useMemo(
    () =>
      Object.fromEntries(
        PRESSURE_LADDER_GROUPS.flatMap(({ names }) => [...names]).map((name) => [
          name,
          { ...PRESSURE_LADDER_FIELDS[name], meaning: t(`handPressureLadder.meaning.${name}`) } as FieldDescription,
        ]),
      ),
    [t],
  );
  const errorOf = (path: string): string | null => {
    const code = unread[path];
    if (code === undefined) return null;
    return t.find(`fieldProblem.${code}`, { label: upperFirst(toPathTitle(t, path)) }) ?? t('problem.unknown');
  };

  return (
    <>
      <PageHead
        crumbsLabel={t('nav.crumbs')}
        crumbs={[{ name: t('nav.calculations'), href: '/calculations' }]}
        title={t('handPressureLadder.title')}
        under={t('handPressureLadder.summary')}
        actions={<UnitSwitch />}
      />
      <MainAndAside
        main={
          <StackedPanels>
            <Panel title={t('pressureLadder.title')}>
              {last?.kind === 'failed' ? (
                <StateNote title={t('handPressureLadder.failed')}>{last.message}</StateNote>
              ) : ladder === null ? (
                <p>{t(Object.keys(unread).length > 0 ? 'calculations.unread' : 'handPressureLadder.nothing')}</p>
              ) : (
                <Drawn ladder={ladder} />
              )}
            </Panel>
            <Panel title={t('calculations.inputs')}>
              {PRESSURE_LADDER_GROUPS.map(({ code, names }) => (
                <fieldset className={styles['inputs']} key={code}>
                  <legend>{t(`handPressureLadder.group.${code}`)}</legend>
                  <CalculationFields
                    fields={pickSaid(described, names)}
                    drafts={drafts}
                    onChange={setDrafts}
                    path=""
                    errorOf={errorOf}
                  />
                </fieldset>
              ))}
            </Panel>
          </StackedPanels>
        }
        aside={
          <StackedPanels>
            <Panel title={t('handPressureLadder.checks')}>
              {ladder === null ? <p>{t('handPressureLadder.nothing')}</p> : <CheckList checks={ladder.checks} />}
              <p className={styles['digits']}>{t('handPressureLadder.without')}</p>
            </Panel>
            <Caution title={t('caution.title')} lines={[t('caution.calc.rated-pressure'), t('caution.judgement')]} />
          </StackedPanels>
        }
      />
    </>
  );
}
