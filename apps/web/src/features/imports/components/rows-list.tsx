'use client';

import { importField, routes, type Import, type ImportOutcome, type ImportRow } from '@repo/contracts';
import { useApiPages } from '@/lib/api/hooks';
import { useDates, useTranslate } from '@/lib/i18n/i18n';
import { FailedNote } from '@/lib/states';
import { useUrlState } from '@/lib/url-state';
import { ListEnd } from '@/lib/list-end';
import { LoadingNote } from '@/ui/notice';
import { Segments } from '@/ui/segments';
import { Panel } from '@/ui/panel';
import { Table } from '@/ui/table';
import { toChoiceWords } from '../choice-word';
import styles from './imports.module.css';

const SHOWN = ['all', 'created', 'changed', 'refused'] as const;
type Shown = (typeof SHOWN)[number];
type RecordChange = ImportRow['records'][number]['changes'][number];

/** From what to what; of a new record only to what, since all of it was nothing before. */
function Change({ change, isNew }: { change: RecordChange; isNew: boolean }) {
  const t = useTranslate();
  const dates = useDates();
  const about = importField(change.field);
  const toShown = (text: string): string =>
    about?.type === 'instant' && text.endsWith('Z')
      ? dates.atTime(text)
      : about?.type === 'choice' || about?.type === 'list'
        ? toChoiceWords(t, about.key, text)
        : text;
  const to = change.converted === '' ? toShown(change.to) : `${change.to} = ${change.converted}`;
  const field = about?.header ?? change.field;
  if (isNew && change.from === '') return t('imports.newValue', { field, to });
  return t('imports.change', { field, from: change.from === '' ? t('imports.nothing') : toShown(change.from), to });
}

function RowDetail({ row }: { row: ImportRow }) {
  const t = useTranslate();
  return (
    <ul className={styles['details']}>
      {row.findings.map((remark) => (
        <li key={JSON.stringify(remark)}>
          {remark.cell === null ? null : <strong>{remark.cell} </strong>}
          {t.find(`imports.remark.${remark.code}`, remark.params) ?? remark.code}
        </li>
      ))}
      {row.filled.length === 0 ? null : <li>{t('imports.filled', { cells: t.list(row.filled) })}</li>}
      {row.records.map((record) => (
        <li key={`${record.entity} ${record.name}`}>
          {t(`imports.entity.${record.entity}`)}: {record.name}
          {record.changes.length === 0 ? null : (
            <ul>
              {record.changes.map((change) => (
                <li key={change.field}>
                  <Change change={change} isNew={record.outcome === 'created'} />
                </li>
              ))}
            </ul>
          )}
        </li>
      ))}
    </ul>
  );
}

/** Row by row, refused ones first in view when there are any. */
export function RowsList({ one: current }: { one: Import }) {
  const t = useTranslate();
  const { get, set } = useUrlState();
  const fallback: Shown = (current.counts?.rows.refused ?? 0) > 0 ? 'refused' : 'all';
  const shown: Shown = SHOWN.find((value) => value === get('rows')) ?? fallback;
  const outcome: ImportOutcome | undefined = shown === 'all' ? undefined : shown;
  const { query, items } = useApiPages(routes.imports.rows, {
    params: { id: current.id },
    query: { limit: 50, ...(outcome === undefined ? {} : { outcome }) },
  });
  return (
    <Panel title={t('imports.rowsOf')}>
      <Segments<Shown>
        label={t('imports.show')}
        value={shown}
        choices={SHOWN.map((value) => ({
          value,
          label: value === 'all' ? t('imports.show.all') : t(`imports.${value}`),
        }))}
        onChange={(value) => set({ rows: value })}
      />
      {query.isPending ? <LoadingNote text={t('state.loading')} /> : null}
      {query.error !== null && items.length === 0 ? (
        <FailedNote error={query.error} onRetry={() => void query.refetch()} />
      ) : null}
      {query.isSuccess && items.length === 0 ? <p>{t('imports.noRows')}</p> : null}
      {items.length === 0 ? null : (
        <Table
          caption={t('imports.rowsOf')}
          rows={items}
          rowKey={(row) => String(row.sequence)}
          columns={[
            {
              key: 'row',
              title: t('imports.row'),
              isName: true,
              cell: (row) => t('imports.rowAt', { sheet: row.sheet, row: row.row }),
            },
            { key: 'outcome', title: t('imports.outcome'), cell: (row) => t(`imports.${row.outcome}`) },
            { key: 'detail', title: t('imports.detail'), cell: (row) => <RowDetail row={row} /> },
          ]}
        />
      )}
      <ListEnd query={query} />
    </Panel>
  );
}
