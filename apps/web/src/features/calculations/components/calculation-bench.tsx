'use client';

import type { CalculationDescription } from '@repo/calc';
import { useEffect, useMemo, useState, type ReactNode } from 'react';
import { useTranslate } from '@/lib/i18n/i18n';
import { FailedNote } from '@/lib/states';
import { Button } from '@/ui/button';
import { ErrorSummary } from '@/ui/field';
import { Caution, StateNote } from '@/ui/notice';
import { Panel } from '@/ui/panel';
import { MainAndAside, StackedPanels } from '@/ui/stack';
import { digitsOf } from '../digits';
import { listFieldNames, toFieldTitle, toPathTitle, upperFirst } from '../field-titles';
import { fromInputs, readInputs, toBlankDrafts, type Drafts } from '../forms';
import { groupInputs } from '../group-inputs';
import { readLinkedInputs, writeLinkedInputs } from '../link';
import { hasPlots } from '../plots/make-plots';
import { toRefusalText } from '../refusal-text';
import { useOutcome, type Outcome } from '../use-outcome';
import { useWork } from '../work/use-work';
import { GroupedFields, toFieldId } from './calculation-fields';
import { CalculationResult } from './calculation-result';
import { WorkedExample } from './worked-example';
import { MaterialChoice } from './material-choice';
import { Plot } from './plot';
import styles from './calculations.module.css';

const PAUSE_MS = 250;

function CopyAsJson({ id, inputs, result }: { id: string; inputs: unknown; result: unknown }) {
  const t = useTranslate();
  const [isCopied, setCopied] = useState(false);
  return (
    <div className={styles['actions']}>
      <Button
        onClick={() => {
          void navigator.clipboard
            .writeText(JSON.stringify({ id, inputs, result }, null, 2))
            .then(() => setCopied(true));
        }}
      >
        {t('calculations.copy')}
      </Button>
      <Button
        onClick={() => {
          void navigator.clipboard.writeText(window.location.href).then(() => setCopied(true));
        }}
      >
        {t('calculations.copyLink')}
      </Button>
      <span role="status">{isCopied ? t('calculations.copied') : ''}</span>
    </div>
  );
}

/** What is being worked at, and the way to stop it. */
function Progress({ share, onCancel }: { share: number | null; onCancel: () => void }) {
  const t = useTranslate();
  return (
    <div className={styles['progress']}>
      <label>
        <span>{t('calculations.computing')}</span>
        <progress {...(share === null ? {} : { value: share })} max={1} />
      </label>
      <Button onClick={onCancel}>{t('calculations.cancel')}</Button>
    </div>
  );
}

function Plots({ calculation, text }: { calculation: string; text: string | null }) {
  const t = useTranslate();
  const { work } = useWork('plot', calculation, text);
  const last = work.state === 'done' ? work.reply : work.state === 'running' ? work.last : null;
  if (last?.kind === 'failed') return <StateNote title={t('plot.failed')}>{last.message}</StateNote>;
  if (last?.kind !== 'plots' || last.plots.length === 0) return null;
  return (
    <Panel title={t(last.plots.length > 1 ? 'plot.titleSeveral' : 'plot.title')}>
      {last.plots.map((plot) => (
        <Plot key={plot.code} plot={plot} />
      ))}
    </Panel>
  );
}

function Answer({
  calculation,
  inputs,
  digits,
  outcome,
}: {
  calculation: CalculationDescription;
  inputs: unknown;
  digits: number;
  outcome: Outcome;
}) {
  const t = useTranslate();
  return (
    <>
      {outcome.state === 'running' ? <Progress share={outcome.share} onCancel={outcome.cancel} /> : null}
      {outcome.state === 'cancelled' ? (
        <div className={styles['progress']}>
          <p>{t('calculations.cancelled')}</p>
          <Button onClick={outcome.again}>{t('calculations.again')}</Button>
        </div>
      ) : null}
      {outcome.refusal !== null ? (
        <ErrorSummary
          title={t('form.problem', { count: outcome.refusal.length })}
          summary={{
            round: 0,
            errors: outcome.refusal.map((problem) => ({
              fieldId: toFieldId(problem.field),
              text: toRefusalText(t, problem, toPathTitle(t, problem.field), listFieldNames(calculation.inputs)),
            })),
          }}
        />
      ) : outcome.error !== null ? (
        <FailedNote error={outcome.error} onRetry={outcome.again} />
      ) : outcome.result === null ? null : (
        <>
          <CalculationResult result={outcome.result} outputs={calculation.outputs} digits={digits} />
          <p className={styles['digits']}>{t('calculations.digits', { digits })}</p>
          {outcome.state === 'done' ? <CopyAsJson id={calculation.id} inputs={inputs} result={outcome.result} /> : null}
        </>
      )}
    </>
  );
}

/** What is typed once nobody has typed for a moment; the page's address says it from then on. */
function useSettled(text: string): string {
  const [settled, setSettled] = useState(text);
  useEffect(() => {
    const timer = setTimeout(() => {
      setSettled(text);
      writeLinkedInputs(text === '{}' ? null : text);
    }, PAUSE_MS);
    return () => clearTimeout(timer);
  }, [text]);
  return settled;
}

/** The inputs, what comes of them as one types, and what helps to see it. */
export function CalculationBench({ calculation, texts }: { calculation: CalculationDescription; texts: ReactNode }) {
  const t = useTranslate();
  const [drafts, setDrafts] = useState<Drafts>(() => {
    const linked = readLinkedInputs();
    return linked === null ? toBlankDrafts(calculation.inputs) : fromInputs(calculation.inputs, linked);
  });
  const { inputs, unread } = useMemo(() => readInputs(calculation.inputs, drafts), [calculation.inputs, drafts]);
  const text = useMemo(() => JSON.stringify(inputs), [inputs]);
  const settled = useSettled(text);
  const missing = Object.entries(calculation.inputs)
    .filter(([name, field]) => field.required !== false && inputs[name] === undefined && unread[name] === undefined)
    .map(([name]) => toFieldTitle(t, name));
  const canRun = missing.length === 0 && Object.keys(unread).length === 0;
  // What has not settled yet would be asked with the inputs of a moment ago.
  const asked = canRun && settled === text ? settled : null;
  const outcome = useOutcome(calculation, asked);
  const errorOf = (path: string): string | null => {
    const code = unread[path];
    const label = toPathTitle(t, path);
    if (code !== undefined) return t.find(`fieldProblem.${code}`, { label: upperFirst(label) }) ?? t('problem.unknown');
    const problem = canRun ? outcome.refusal?.find((problem) => problem.field === path) : undefined;
    return problem === undefined ? null : toRefusalText(t, problem, label, listFieldNames(calculation.inputs));
  };

  return (
    <>
      <MainAndAside
        main={
          <Panel title={t('calculations.inputs')}>
            <WorkedExample calculation={calculation} onFill={setDrafts} />
            {'kc11' in calculation.inputs && 'mc' in calculation.inputs ? (
              <div className={styles['search']}>
                <MaterialChoice drafts={drafts} onChange={setDrafts} />
              </div>
            ) : null}
            <GroupedFields
              groups={groupInputs(calculation)}
              fields={calculation.inputs}
              drafts={drafts}
              onChange={setDrafts}
              path=""
              errorOf={errorOf}
            />
          </Panel>
        }
        aside={
          <StackedPanels>
            <Panel title={t('calculations.result')}>
              <div aria-live="polite">
                {canRun ? (
                  <Answer
                    calculation={calculation}
                    inputs={inputs}
                    digits={digitsOf(calculation.inputs, drafts)}
                    outcome={outcome}
                  />
                ) : (
                  <p>
                    {missing.length > 0
                      ? t('calculations.missing', { missing: t.list(missing) })
                      : t('calculations.unread')}
                  </p>
                )}
              </div>
            </Panel>
            <Caution
              title={t('caution.title')}
              lines={[
                ...calculation.cautions.map((code) => t.find(`caution.calc.${code}`) ?? code),
                t('caution.judgement'),
              ]}
            />
          </StackedPanels>
        }
      />
      <div className={styles['below']}>
        {hasPlots(calculation.id) ? (
          <Plots calculation={calculation.id} text={outcome.state === 'done' ? asked : null} />
        ) : null}
        {texts}
      </div>
    </>
  );
}
