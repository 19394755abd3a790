'use client';

import { routes, type Import } from '@repo/contracts';
import { useEffect, useRef, useState } from 'react';
import { isOpenJob, JobOutcome, JobProgress, useJob } from '@/features/jobs';
import { callUpload } from '@/lib/api/client';
import { useApi } from '@/lib/api/hooks';
import { useTranslate } from '@/lib/i18n/i18n';
import { late } from '@/lib/late';
import { FailedNote, useProblemText } from '@/lib/states';
import { ButtonLink } from '@/ui/button';
import { LoadingNote, Notice } from '@/ui/notice';
import { PageHead, Panel } from '@/ui/panel';
import { StackedPanels } from '@/ui/stack';
import { FileChooser } from './file-chooser';
import styles from './imports.module.css';

const MappingStep = late(() => import('./mapping-step').then((file) => file.MappingStep));
const OutcomeStep = late(() => import('./outcome-step').then((file) => file.OutcomeStep));

const STEPS = ['file', 'columns', 'trial', 'done'] as const;
type Step = (typeof STEPS)[number];

const STEP_OF: Record<Import['state'], Step> = {
  new: 'file',
  reading: 'file',
  unreadable: 'file',
  read: 'columns',
  checking: 'columns',
  checked: 'trial',
  committing: 'trial',
  committed: 'done',
  undoing: 'done',
  undone: 'done',
};

/** Where one is. What was pressed for the next step is gone with the step before: whoever goes by keys goes on from here. */
function Steps({ current, isRunning }: { current: Step; isRunning: boolean }) {
  const t = useTranslate();
  const list = useRef<HTMLOListElement>(null);
  useEffect(() => {
    const shown = list.current;
    return () => {
      // Once the next step is drawn; nobody is taken away from where they are.
      requestAnimationFrame(() => {
        if (document.activeElement === document.body) shown?.focus();
      });
    };
  }, [current, isRunning]);
  return (
    <ol ref={list} tabIndex={-1} className={styles['steps']} aria-label={t('imports.steps')}>
      {STEPS.map((step) => (
        <li key={step} aria-current={step === current ? 'step' : undefined}>
          {t(`imports.step.${step}`)}
        </li>
      ))}
    </ol>
  );
}

function FileStep({ one: current, onSent }: { one: Import; onSent: () => void }) {
  const toText = useProblemText();
  const [error, setError] = useState<unknown>(null);
  const [isSending, setSending] = useState(false);
  const send = async (file: File): Promise<void> => {
    setSending(true);
    setError(null);
    try {
      await callUpload(routes.imports.upload, { id: current.id }, file);
      onSent();
    } catch (problem) {
      setError(problem);
    }
    setSending(false);
  };
  return (
    <>
      <FileChooser isSending={isSending} onFile={(file) => void send(file)} />
      {error === null ? null : <Notice role="alert">{toText(error)}</Notice>}
    </>
  );
}

/** One import, step by step; every step is kept by the service, so that the page can be left and reloaded at any time. */
export function ImportPage({ id }: { id: string }) {
  const t = useTranslate();
  const query = useApi(routes.imports.get, { params: { id } });
  const answer = query.data;
  const current = answer?.data;
  const { job } = useJob(current?.jobId ?? null);
  const [isChanging, setChanging] = useState(false);
  if (current === undefined) {
    return query.error === null ? (
      <LoadingNote text={t('state.loading')} />
    ) : (
      <FailedNote error={query.error} onRetry={() => void query.refetch()} isPage />
    );
  }
  const isRunning = job !== null && isOpenJob(job);
  const hasFailed = job !== null && (job.state === 'failed' || job.state === 'cancelled');
  // Its headings are looked for in another row.
  const isReadAgain = current.state === 'reading' && current.reading !== null;
  const step = isReadAgain || (isChanging && current.state === 'checked') ? 'columns' : STEP_OF[current.state];
  return (
    <>
      <PageHead
        crumbs={[{ name: t('nav.imports'), href: '/imports' }]}
        title={current.fileName}
        under={t(`imports.state.${current.state}`)}
        actions={<ButtonLink href="/imports">{t('imports.newOne')}</ButtonLink>}
      />
      <StackedPanels>
        <Steps current={step} isRunning={isRunning} />
        {isRunning ? (
          <Panel label={t('nav.jobs')}>
            <JobProgress job={job} />
          </Panel>
        ) : null}
        {hasFailed ? (
          <Notice role="alert">
            <strong>{t('imports.failed')}</strong>
            <JobOutcome job={job} />
          </Notice>
        ) : null}
        {step === 'file' && !isRunning ? (
          <Panel label={t('imports.step.file')}>
            <FileStep one={current} onSent={() => void query.refetch()} />
          </Panel>
        ) : null}
        {step === 'columns' && !isRunning && !isReadAgain ? (
          <MappingStep
            key={current.id}
            one={current}
            etag={answer?.etag ?? null}
            onTried={() => {
              setChanging(false);
              void query.refetch();
            }}
          />
        ) : null}
        {(step === 'trial' || step === 'done') && !isRunning ? (
          <OutcomeStep one={current} onChangeColumns={() => setChanging(true)} onAsked={() => void query.refetch()} />
        ) : null}
      </StackedPanels>
    </>
  );
}
