'use client';

import { routes, type Finding } from '@repo/contracts';
import type { ReactNode } from 'react';
import { useApiChange, useApiPages } from '@/lib/api/hooks';
import { area, check, FormDialog, RecordForm, useRecordForm } from '@/lib/forms';
import { useDates, useTranslate } from '@/lib/i18n/i18n';
import { useMay } from '@/lib/session/session';
import { useProblemText } from '@/lib/states';
import { useUrlState } from '@/lib/url-state';
import { ListEnd } from '@/lib/list-end';
import { Button } from '@/ui/button';
import { Notice } from '@/ui/notice';
import { Segments } from '@/ui/segments';
import { Panel } from '@/ui/panel';
import { Table } from '@/ui/table';
import styles from './findings.module.css';

/** The form that says which machine a source's reference means: the source's own. */
type ToMapForm = (reference: string, onDone: () => void) => ReactNode;

const etagOf = (finding: Finding): string => `"v${finding.version}"`;

/** Which of the reports stands. */
function Contenders({ finding }: { finding: Finding }) {
  const t = useTranslate();
  const dates = useDates();
  const may = useMay();
  const toText = useProblemText();
  const settle = useApiChange(routes.findings.settle);
  const mayAct = finding.state === 'open' && may(routes.findings.settle);
  // Two numbers in one delivery can only be told apart by their hash.
  const needsHash = new Set(finding.contenders.map((one) => one.webhookId)).size < finding.contenders.length;
  return (
    <>
      <Table
        caption={t('findings.reports')}
        rows={finding.contenders}
        rowKey={(one) => `${one.webhookId} ${one.from} ${one.numbersHash}`}
        columns={[
          { key: 'delivery', title: t('sources.webhookId'), isName: true, cell: (one) => <code>{one.webhookId}</code> },
          {
            key: 'interval',
            title: t('findings.interval'),
            cell: (one) => `${dates.atTime(one.from)} – ${dates.atTime(one.to)}`,
          },
          { key: 'cycles', title: t('findings.cycles'), isNumber: true, cell: (one) => one.clampCycles },
          {
            key: 'alarms',
            title: t('findings.alarms'),
            isNumber: true,
            cell: (one) => Object.values(one.alarms).reduce((sum, count) => sum + count, 0),
          },
          ...(mayAct
            ? [
                {
                  key: 'actions',
                  title: t('findings.prevails'),
                  isActions: true,
                  cell: (one: Finding['contenders'][number]) => (
                    <Button
                      look="plain"
                      aria-label={
                        needsHash
                          ? t('findings.prevailsOfInterval', {
                              id: one.webhookId,
                              from: dates.atTime(one.from),
                              cycles: one.clampCycles,
                            })
                          : t('findings.prevailsOf', { id: one.webhookId })
                      }
                      disabled={settle.isPending}
                      onClick={() =>
                        settle.mutate({
                          params: { id: finding.id },
                          etag: etagOf(finding),
                          body: {
                            sourceId: one.sourceId,
                            webhookId: one.webhookId,
                            ...(needsHash ? { numbersHash: one.numbersHash } : {}),
                            ...(needsHash && finding.subjectCount > 1
                              ? { interval: { from: one.from, to: one.to } }
                              : {}),
                          },
                        })
                      }
                    >
                      {t('findings.prevails')}
                    </Button>
                  ),
                },
              ]
            : []),
        ]}
      />
      {settle.error === null ? null : <Notice role="alert">{toText(settle.error)}</Notice>}
      {settle.data?.data.settled === 0 ? <Notice role="status">{t('findings.settledInPart')}</Notice> : null}
    </>
  );
}

const DISMISS = {
  reason: area({ label: 'findings.reason', isRequired: true }),
  alike: check({ label: 'findings.alike' }),
};

function DismissForm({ finding, onDone }: { finding: Finding; onDone: () => void }) {
  const t = useTranslate();
  const form = useRecordForm({
    name: `dismiss:${finding.id}`,
    fields: DISMISS,
    initial: { reason: '', alike: false },
  });
  const dismiss = useApiChange(routes.findings.dismiss, { onDone: form.clearThen(onDone) });
  return (
    <RecordForm
      form={form}
      groups={[{ fields: ['reason', 'alike'] }]}
      label={t('findings.dismiss')}
      submitText={t('findings.dismiss')}
      isPending={dismiss.isPending}
      onSubmit={(body) =>
        dismiss.mutate({ params: { id: finding.id }, etag: etagOf(finding), body }, { onError: form.takeFailure })
      }
    />
  );
}

function FindingActions({ finding, toMapForm }: { finding: Finding; toMapForm: ToMapForm }) {
  const t = useTranslate();
  const may = useMay();
  const toText = useProblemText();
  const retry = useApiChange(routes.findings.retry);
  if (finding.state !== 'open' || !may(routes.findings.dismiss)) return null;
  const canRetry = finding.contenders.length === 0;
  return (
    <>
      <div className={styles['actions']}>
        {finding.kind === 'unknown-machine' ? (
          <FormDialog action={t('sources.map')} title={t('sources.map')}>
            {(close) => toMapForm(finding.subjectCount > 1 ? '' : finding.subject, close)}
          </FormDialog>
        ) : null}
        {canRetry ? (
          <Button
            disabled={retry.isPending}
            onClick={() => retry.mutate({ params: { id: finding.id }, etag: etagOf(finding), body: { alike: true } })}
          >
            {t('findings.retry')}
          </Button>
        ) : null}
        <FormDialog action={t('findings.dismiss')} title={t('findings.dismiss')}>
          {(close) => <DismissForm finding={finding} onDone={close} />}
        </FormDialog>
      </div>
      {retry.error === null ? null : <Notice role="alert">{toText(retry.error)}</Notice>}
      {retry.data?.data.settled === 0 ? <Notice role="status">{t('findings.takenInPart')}</Notice> : null}
    </>
  );
}

function FindingItem({ finding, toMapForm }: { finding: Finding; toMapForm: ToMapForm }) {
  const t = useTranslate();
  const dates = useDates();
  const subject = [finding.machineName, finding.subject].filter((part) => part !== null && part !== '').join(', ');
  return (
    <li>
      <h3>{t(`findings.kind.${finding.kind}`)}</h3>
      <p className={styles['small']}>
        {t('findings.about', {
          subject: subject === '' ? finding.webhookId : subject,
          date: dates.atTime(finding.foundAt),
        })}
        {finding.subjectCount > 1
          ? ` · ${t(finding.contenders.length === 0 ? 'findings.together' : 'findings.manyIntervals', { count: finding.subjectCount })}`
          : ''}
        {finding.state === 'open' ? '' : ` · ${t(`findings.state.${finding.state}`)}`}
        {finding.settlement === '' ? '' : ` · ${finding.settlement}`}
      </p>
      {finding.contenders.length === 0 ? null : <Contenders finding={finding} />}
      {finding.part === null ? null : (
        <details className={styles['kept']}>
          <summary>{t('findings.kept')}</summary>
          <pre>{finding.part}</pre>
        </details>
      )}
      <FindingActions finding={finding} toMapForm={toMapForm} />
    </li>
  );
}

/** What came in and waits for a person. */
export function FindingsPanel({ sourceId, toMapForm }: { sourceId: string; toMapForm: ToMapForm }) {
  const t = useTranslate();
  const { get, set } = useUrlState();
  const shown = get('findings') === 'all' ? 'all' : 'open';
  const { query, items } = useApiPages(routes.findings.list, { query: { sourceId, state: shown, limit: 20 } });
  return (
    <Panel
      title={t('sources.findings')}
      note={
        <Segments<'open' | 'all'>
          label={t('sources.show')}
          value={shown}
          choices={[
            { value: 'open', label: t('sources.show.open') },
            { value: 'all', label: t('sources.show.all') },
          ]}
          onChange={(value) => set({ findings: value === 'open' ? null : value })}
        />
      }
    >
      {query.isSuccess && items.length === 0 ? <p className={styles['quiet']}>{t('sources.findingsNone')}</p> : null}
      <ul className={styles['findings']}>
        {items.map((finding) => (
          <FindingItem key={finding.id} finding={finding} toMapForm={toMapForm} />
        ))}
      </ul>
      <ListEnd query={query} />
    </Panel>
  );
}
