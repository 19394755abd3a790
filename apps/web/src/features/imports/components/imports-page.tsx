'use client';

import { EXPORT_TABLE_NAMES, EXPORT_TABLES, IMPORT_ENTITIES, routes, type ImportEntity } from '@repo/contracts';
import { Link } from '@/ui/link';
import { useState } from 'react';
import { ExportButton } from '@/features/exports';
import { useApiPages } from '@/lib/api/hooks';
import { useDates, useTranslate } from '@/lib/i18n/i18n';
import { late } from '@/lib/late';
import { FailedNote, useProblemText } from '@/lib/states';
import { ListEnd } from '@/lib/list-end';
import { SelectField } from '@/ui/field';
import { LoadingNote, Notice } from '@/ui/notice';
import { PageHead, Panel } from '@/ui/panel';
import { MainAndAside } from '@/ui/stack';
import { Table } from '@/ui/table';
import { useNewImport } from '../use-new-import';
import { FileChooser } from './file-chooser';
import styles from './imports.module.css';

const SampleRows = late(() => import('./sample-rows').then((file) => file.SampleRows));

/** What reads back as it was taken away. */
const IMPORTABLE = EXPORT_TABLE_NAMES.filter((table) => 'entity' in EXPORT_TABLES[table]);

/** An address that the browser downloads from. */
const templateUrl = (entity: ImportEntity, format: 'csv' | 'xlsx'): string =>
  `/api/v1${routes.imports.template.path}?entity=${entity}&format=${format}`;

function Templates() {
  const t = useTranslate();
  const [entity, setEntity] = useState<ImportEntity>('machine');
  return (
    <Panel title={t('imports.templates')}>
      <SelectField
        label={t('imports.template')}
        value={entity}
        onChange={(value) => setEntity(IMPORT_ENTITIES.find((one) => one === value) ?? 'machine')}
        choices={IMPORT_ENTITIES.map((value) => ({ value, label: t(`imports.entity.${value}`) }))}
      />
      <p className={styles['actions']}>
        <a href={templateUrl(entity, 'xlsx')} download>
          {t('imports.template.xlsx')}
        </a>
        <a href={templateUrl(entity, 'csv')} download>
          {t('imports.template.csv')}
        </a>
      </p>
      <Samples entity={entity} />
    </Panel>
  );
}

/** What the columns of a sheet may hold; made when somebody asks. */
function Samples({ entity }: { entity: ImportEntity }) {
  const t = useTranslate();
  const [isOpen, setOpen] = useState(false);
  return (
    <details className={styles['samples']} onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>{t('imports.sampleRows')}</summary>
      {isOpen ? <SampleRows entity={entity} /> : null}
    </details>
  );
}

function Earlier() {
  const t = useTranslate();
  const dates = useDates();
  const { query, items } = useApiPages(routes.imports.list, { query: { limit: 20 } });
  return (
    <Panel title={t('imports.earlier')}>
      {query.isPending ? <LoadingNote text={t('state.loading')} /> : null}
      {query.error !== null && items.length === 0 ? (
        <FailedNote error={query.error} onRetry={() => void query.refetch()} />
      ) : null}
      {query.isSuccess && items.length === 0 ? <p>{t('imports.none')}</p> : null}
      {items.length === 0 ? null : (
        <Table
          caption={t('imports.earlier')}
          rows={items}
          rowKey={(one) => one.id}
          columns={[
            {
              key: 'file',
              title: t('imports.file'),
              isName: true,
              cell: (one) => <Link href={`/imports/${one.id}`}>{one.fileName}</Link>,
            },
            {
              key: 'by',
              title: t('imports.by'),
              cell: (one) => `${dates.atDay(one.createdAt)}, ${one.createdByName}`,
            },
            { key: 'state', title: t('imports.stateTitle'), cell: (one) => t(`imports.state.${one.state}`) },
          ]}
        />
      )}
      <ListEnd query={query} />
    </Panel>
  );
}

/** "How do I bring in what we have?" */
export function ImportsPage() {
  const t = useTranslate();
  const toText = useProblemText();
  const { begin, error, isSending } = useNewImport();
  return (
    <>
      <PageHead
        title={t('imports.title')}
        under={t('imports.under')}
        actions={<ExportButton tables={['imports', ...IMPORTABLE]} />}
      />
      <MainAndAside
        main={
          <>
            <Panel label={t('imports.step.file')}>
              <FileChooser isSending={isSending} onFile={begin} />
              {error === null ? null : <Notice role="alert">{toText(error)}</Notice>}
            </Panel>
            <Earlier />
          </>
        }
        aside={<Templates />}
      />
    </>
  );
}
