'use client';

import type { CalculationDescription } from '@repo/calc';
import { routes } from '@repo/contracts';
import { useEffect, useMemo, useState } from 'react';
import { useApi } from '@/lib/api/hooks';
import { isApiError } from '@/lib/api/problem';
import { Formula } from '@/lib/formula/formula';
import { useTranslate } from '@/lib/i18n/i18n';
import { FailedNote, Loaded } from '@/lib/states';
import { useUrlState } from '@/lib/url-state';
import { Button } from '@/ui/button';
import { Caution, StateNote } from '@/ui/notice';
import { PageHead, Sheet } from '@/ui/sheet';
import { MainAndAside, StackedSheets } from '@/ui/stack';
import { fromInputs, isCalculationDescription, readInputs, toBlankDrafts, toWords, type Drafts } from '../forms';
import { CalculationFields } from './calculation-fields';
import { CalculationResult } from './calculation-result';
import styles from './calculations.module.css';

const PAUSE_MS = 250;

function parseInputs(text: string | null): Record<string, unknown> {
  if (text === null) return {};
  try {
    const value: unknown = JSON.parse(text);
    return typeof value === 'object' && value !== null && !Array.isArray(value) ? { ...value } : {};
  } catch (error) {
    if (error instanceof SyntaxError) return {};
    throw error;
  }
}

function Texts({ calculation }: { calculation: CalculationDescription }) {
  const t = useTranslate();
  const parts = [
    ['calculations.method', calculation.method.join('\n')],
    ['calculations.assumes', calculation.assumes],
    ['calculations.range', calculation.range],
  ] as const;
  return (
    <Sheet title={t('calculations.formula')}>
      {calculation.formula.length === 0 ? null : (
        <div className={styles['formula']} role="group" aria-label={t('calculations.formula')} tabIndex={0}>
          {calculation.formula.map((line) => (
            <Formula key={line} text={line} />
          ))}
        </div>
      )}
      <div className={styles['texts']}>
        {parts.map(([key, text]) =>
          text === '' ? null : (
            <div key={key}>
              <h3>{t(key)}</h3>
              <p>{text}</p>
            </div>
          ),
        )}
        <div>
          <h3>{t('calculations.sources')}</h3>
          {calculation.sources.map((source) => (
            <p key={source}>{source}</p>
          ))}
        </div>
      </div>
    </Sheet>
  );
}

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

function Shown({ calculation }: { calculation: CalculationDescription }) {
  const t = useTranslate();
  const { get, set } = useUrlState();
  const asked = get('inputs');
  const [drafts, setDrafts] = useState<Drafts>(() =>
    asked === null ? toBlankDrafts(calculation.inputs) : fromInputs(calculation.inputs, parseInputs(asked)),
  );
  const { inputs, unread } = useMemo(() => readInputs(calculation.inputs, drafts), [calculation.inputs, drafts]);
  const text = JSON.stringify(inputs);
  const [settled, setSettled] = useState(text);
  useEffect(() => {
    const timer = setTimeout(() => {
      setSettled(text);
      set({ inputs: text === '{}' ? null : text });
    }, PAUSE_MS);
    return () => clearTimeout(timer);
  }, [text, set]);

  const missing = Object.entries(calculation.inputs)
    .filter(([name, field]) => field.required !== false && inputs[name] === undefined && unread[name] === undefined)
    .map(([name]) => toWords(name));
  const canRun = missing.length === 0 && Object.keys(unread).length === 0;
  const query = useApi(
    routes.calculations.calculate,
    { params: { id: calculation.id }, body: parseInputs(settled) },
    // What has not settled yet would be asked with the inputs of a moment ago.
    { isEnabled: canRun && settled === text, isSticky: true },
  );
  const refusal = canRun && isApiError(query.error) && query.error.fields.length > 0 ? query.error : null;
  const errorOf = (path: string): string | null => {
    const code = unread[path];
    const label = toWords(path);
    if (code !== undefined) return t.find(`fieldProblem.${code}`, { label }) ?? t('problem.unknown');
    const found = refusal?.fields.find((problem) => problem.field === path);
    return found === undefined ? null : t('problem.needs', { label, needs: found.needs });
  };

  return (
    <MainAndAside
      main={
        <>
          <Sheet title={t('calculations.inputs')}>
            <CalculationFields
              fields={calculation.inputs}
              drafts={drafts}
              onChange={setDrafts}
              path=""
              errorOf={errorOf}
            />
          </Sheet>
          <Texts calculation={calculation} />
        </>
      }
      aside={
        <StackedSheets>
          <Sheet title={t('calculations.result')}>
            <div aria-live="polite">
              {!canRun ? (
                <p>
                  {missing.length > 0
                    ? t('calculations.missing', { missing: missing.join(', ') })
                    : t('calculations.unread')}
                </p>
              ) : refusal !== null ? (
                <ul className={styles['problems']}>
                  {refusal.fields.map((problem) => (
                    <li key={`${problem.field}${problem.needs}`}>
                      {t('problem.needs', { label: toWords(problem.field), needs: problem.needs })}
                    </li>
                  ))}
                </ul>
              ) : query.error !== null ? (
                <FailedNote error={query.error} onRetry={() => void query.refetch()} />
              ) : query.data === undefined ? (
                <p>{t('calculations.computing')}</p>
              ) : (
                <>
                  <CalculationResult result={query.data.data} outputs={calculation.outputs} />
                  <CopyAsJson id={calculation.id} inputs={inputs} result={query.data.data} />
                </>
              )}
            </div>
          </Sheet>
          <Caution
            title={t('caution.title')}
            lines={[
              ...calculation.cautions.map((code) => t.find(`caution.calc.${code}`) ?? code),
              t('caution.judgement'),
            ]}
          />
        </StackedSheets>
      }
    />
  );
}

export function CalculationPage({ calculationId }: { calculationId: string }) {
  const t = useTranslate();
  const query = useApi(routes.calculations.get, { params: { id: calculationId } });
  return (
    <Loaded isPage query={query}>
      {({ data }) => {
        if (!isCalculationDescription(data))
          return <StateNote title={t('state.failed.title')}>{t('problem.unknown')}</StateNote>;
        return (
          <>
            <PageHead
              crumbsLabel={t('nav.crumbs')}
              crumbs={[{ name: t('nav.calculations'), href: '/calculations' }]}
              title={data.title}
              under={data.summary}
            />
            <Shown calculation={data} />
          </>
        );
      }}
    </Loaded>
  );
}
