'use client';

import { IMPORT_ENTITIES, routes, type Import, type ImportOutcome } from '@repo/contracts';
import { useEffect, useRef, useState } from 'react';
import { useApiChange } from '@/lib/api/hooks';
import { useDates, useTranslate } from '@/lib/i18n/i18n';
import { useProblemText } from '@/lib/states';
import { Button } from '@/ui/button';
import { Notice } from '@/ui/notice';
import { Panel } from '@/ui/panel';
import { Table } from '@/ui/table';
import { useNewImport } from '../use-new-import';
import { FileChooser } from './file-chooser';
import { RowsList } from './rows-list';
import styles from './imports.module.css';

export const OUTCOMES: readonly ImportOutcome[] = ['created', 'changed', 'unchanged', 'refused'];

/** The way on with rows that are refused: mended in the file, which is understood as this one was. */
function SendMended() {
  const t = useTranslate();
  const toText = useProblemText();
  const { begin, error, isSending } = useNewImport();
  return (
    <>
      <FileChooser
        isSending={isSending}
        onFile={begin}
        label={t('imports.sendMended')}
        hint={t('imports.sendMendedHint')}
      />
      {error === null ? null : <Notice role="alert">{toText(error)}</Notice>}
    </>
  );
}

/** How many rows, and of which kinds of record. */
function Counted({ counts }: { counts: NonNullable<Import['counts']> }) {
  const t = useTranslate();
  const kinds = IMPORT_ENTITIES.filter((entity) => counts.records[entity] !== undefined);
  return (
    <>
      <dl className={styles['counts']}>
        {OUTCOMES.map((outcome) => (
          <div key={outcome}>
            <dd>{counts.rows[outcome].toLocaleString(t.languageTag)}</dd>
            <dt>{t(`imports.${outcome}`)}</dt>
          </div>
        ))}
      </dl>
      {kinds.length === 0 ? null : (
        <Table
          caption={t('imports.records')}
          rows={kinds}
          rowKey={(entity) => entity}
          columns={[
            {
              key: 'kind',
              title: t('imports.kindOfRecord'),
              isName: true,
              cell: (entity) => t(`imports.entity.${entity}`),
            },
            ...OUTCOMES.map((outcome) => ({
              key: outcome,
              title: t(`imports.${outcome}`),
              isNumber: true,
              cell: (entity: (typeof IMPORT_ENTITIES)[number]) => counts.records[entity]?.[outcome] ?? 0,
            })),
          ]}
        />
      )}
    </>
  );
}

/** Asked once more before it is taken back. */
function UndoQuestion({ isPending, onUndo, onKeep }: { isPending: boolean; onUndo: () => void; onKeep: () => void }) {
  const t = useTranslate();
  const box = useRef<HTMLDivElement>(null);
  // The button that asked is gone.
  useEffect(() => box.current?.focus(), []);
  return (
    <div ref={box} tabIndex={-1}>
      <Notice role="alert">
        <p>{t('imports.undoConfirm')}</p>
        <div className={styles['actions']}>
          <Button look="strong" disabled={isPending} onClick={onUndo}>
            {t('imports.undoNow')}
          </Button>
          <Button onClick={onKeep}>{t('imports.keep')}</Button>
        </div>
      </Notice>
    </div>
  );
}

/** What would happen, or did: counts first, then rows; then the way on. */
export function OutcomeStep({
  one: current,
  onChangeColumns,
  onAsked,
}: {
  one: Import;
  onChangeColumns: () => void;
  onAsked: () => void;
}) {
  const t = useTranslate();
  const dates = useDates();
  const toText = useProblemText();
  const [isAsking, setAsking] = useState(false);
  const actions = useRef<HTMLDivElement>(null);
  const commit = useApiChange(routes.imports.commit, { onDone: onAsked });
  const undo = useApiChange(routes.imports.undo, { onDone: onAsked });
  const error = commit.error ?? undo.error;
  const { counts } = current;
  if (counts === null) return null;
  const isTried = current.state === 'checked';
  const { refused } = counts.rows;
  const isNothing = counts.rows.created + counts.rows.changed === 0;
  const params = { id: current.id };
  return (
    <>
      <Panel title={isTried ? t('imports.wouldHappen') : t('imports.happened')}>
        <Counted counts={counts} />
        {current.committedAt === null ? null : (
          <p>{t('imports.committed', { day: dates.atDay(current.committedAt), name: current.createdByName })}</p>
        )}
        {current.state === 'undone' ? <p>{t('imports.undone')}</p> : null}
        {isTried && isNothing && refused === 0 ? <p>{t('imports.nothingToDo')}</p> : null}
        {isTried && refused > 0 ? <Notice role="status">{t('imports.refusedBlock')}</Notice> : null}
        {refused > 0 && current.state !== 'undone' ? <SendMended /> : null}
        {error === null ? null : <Notice role="alert">{toText(error)}</Notice>}
        <div className={styles['actions']} ref={actions} tabIndex={-1}>
          {isTried && !isNothing ? (
            <Button
              look="strong"
              disabled={commit.isPending}
              onClick={() => commit.mutate({ params, body: { withoutRefused: refused > 0 } })}
            >
              {refused > 0 ? t('imports.commitWithout') : t('imports.commit')}
            </Button>
          ) : null}
          {isTried ? <Button onClick={onChangeColumns}>{t('imports.backToColumns')}</Button> : null}
          {refused > 0
            ? (['xlsx', 'csv'] as const).map((format) => (
                <a key={format} href={`/api/v1/imports/${current.id}/refused-rows?format=${format}`} download>
                  {t('imports.refusedDownload', { format: format.toUpperCase() })}
                </a>
              ))
            : null}
          {current.state === 'committed' && !isAsking ? (
            <Button onClick={() => setAsking(true)}>{t('imports.undo')}</Button>
          ) : null}
        </div>
        {isAsking && current.state === 'committed' ? (
          <UndoQuestion
            isPending={undo.isPending}
            onUndo={() => {
              setAsking(false);
              undo.mutate({ params });
            }}
            onKeep={() => {
              setAsking(false);
              actions.current?.focus();
            }}
          />
        ) : null}
      </Panel>
      <RowsList one={current} />
    </>
  );
}
