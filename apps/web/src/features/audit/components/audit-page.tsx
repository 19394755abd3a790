'use client';

import { routes, type AuditEntry } from '@repo/contracts';
import type { ReactNode } from 'react';
import { Link } from '@/ui/link';
import { ExportButton } from '@/features/exports';
import { useApiPages } from '@/lib/api/hooks';
import { ToldChanges } from '@/lib/changes/told-changes';
import { useDates, useTranslate, type Translate } from '@/lib/i18n/i18n';
import { UnitSwitch } from '@/lib/quantity/unit-switch';
import { FailedNote } from '@/lib/states';
import { useUrlState } from '@/lib/url-state';
import { ListEnd } from '@/lib/list-end';
import { FieldRow, SelectField } from '@/ui/field';
import { LoadingNote, StateNote } from '@/ui/notice';
import { PageHead, Panel } from '@/ui/panel';
import { StackedPanels } from '@/ui/stack';
import { Table, tableStyles } from '@/ui/table';
import styles from './audit.module.css';

/** Nouns that the trail knows, and the page of each, where it has one. */
const ENTITIES = [
  'customer',
  'site',
  'machine',
  'power-unit',
  'circuit',
  'component-type',
  'installed-component',
  'fixture',
  'fixture-fitting',
  'operation',
  'target-setting',
  'setup-record',
  'sizing-record',
  'issue',
  'service-event',
  'm-code',
  'signal',
  'wire',
  'source',
  'finding',
  'alarm-rule',
  'import',
  'export',
  'job',
  'membership',
  'invitation',
  'api-key',
  'identity-provider',
  'sign-in-policy',
  'organisation',
] as const;
const PAGES: Readonly<Record<string, string>> = {
  customer: '/customers',
  site: '/sites',
  machine: '/machines',
  'component-type': '/component-types',
  fixture: '/fixtures',
  'sizing-record': '/sizing-records',
  issue: '/issues',
  source: '/sources',
};
/** `ratedPressure` → "rated pressure". */
const toWords = (name: string): string => name.replace(/([a-z0-9])([A-Z])/g, '$1 $2').toLowerCase();

/** The record by its name, with the machine that it belongs to. */
function Subject({ subject }: { subject: NonNullable<AuditEntry['subject']> }) {
  const { name, machineId, machineName } = subject;
  return (
    <span className={`${tableStyles['small']} ${styles['subject']}`}>
      {name}
      {machineId === null || machineName === null || machineName === name ? null : (
        <>
          {' · '}
          <Link href={`/machines/${machineId}`}>{machineName}</Link>
        </>
      )}
    </span>
  );
}

const toNoun = (t: Translate, noun: string): string => t.find(`audit.entity.${noun}`) ?? toWords(noun);

/** A way, so that Back leads from one record to all of them. */
const toTrail = (parameters: Record<string, string>): string => {
  const text = new URLSearchParams(parameters).toString();
  return text === '' ? '/audit' : `/audit?${text}`;
};

/** Entries of the trail; `isOfOne`: what was done to one record, which leads no further. */
function AuditTable({ rows, more, isOfOne }: { rows: readonly AuditEntry[]; more: ReactNode; isOfOne: boolean }) {
  const t = useTranslate();
  const dates = useDates();
  return (
    <Panel label={t('audit.title')}>
      <Table<AuditEntry>
        caption={t('audit.title')}
        rows={rows}
        rowKey={(row) => row.id}
        columns={[
          { key: 'at', title: t('visits.when'), isName: true, cell: (row) => dates.atTime(row.at) },
          { key: 'who', title: t('visits.who'), cell: (row) => row.actorName },
          {
            key: 'what',
            title: t('visits.what'),
            cell: (row) => (
              <>
                {t.find(`audit.action.${row.action}`) ?? toWords(row.action)}{' '}
                {PAGES[row.entity] === undefined ? (
                  toNoun(t, row.entity)
                ) : (
                  <Link href={`${PAGES[row.entity]}/${row.entityId}`}>{toNoun(t, row.entity)}</Link>
                )}
                {row.subject === null ? null : <Subject subject={row.subject} />}
              </>
            ),
          },
          { key: 'changes', title: t('audit.said'), cell: (row) => <ToldChanges {...row} /> },
          {
            key: 'sealed',
            title: t('audit.seal'),
            cell: (row) =>
              row.sequence === null ? (
                t('audit.notSealed')
              ) : (
                <>
                  {t('audit.sealed', { sequence: row.sequence })}
                  <span className={tableStyles['small']}>
                    <code>{row.hash?.slice(0, 12)}</code>
                  </span>
                </>
              ),
          },
          {
            key: 'record',
            title: t('table.actions'),
            isActions: true,
            cell: (row) =>
              isOfOne ? (
                ''
              ) : (
                <Link href={toTrail({ entity: row.entity, record: row.entityId })}>{t('audit.thisRecord')}</Link>
              ),
          },
        ]}
      />
      {more}
    </Panel>
  );
}

/** "Who did what?", newest first. */
export function AuditPage() {
  const t = useTranslate();
  const { get, set } = useUrlState();
  const entity = get('entity') ?? '';
  const entityId = get('record') ?? '';
  const { query, items } = useApiPages(routes.auditEntries.list, {
    query: { limit: 50, ...(entity === '' ? {} : { entity }), ...(entityId === '' ? {} : { entityId }) },
  });
  return (
    <>
      <PageHead
        title={t('audit.title')}
        under={t('audit.under')}
        actions={
          <>
            <UnitSwitch />
            <ExportButton tables={['audit-entries', 'jobs', 'imports']} />
          </>
        }
      />
      <StackedPanels>
        <search>
          <FieldRow>
            <SelectField
              label={t('audit.entity')}
              value={entity}
              choices={[
                { value: '', label: t('audit.everything') },
                ...ENTITIES.map((value) => ({ value, label: toNoun(t, value) })),
              ]}
              onChange={(value) => set({ entity: value, record: null })}
            />
          </FieldRow>
          {entityId === '' ? null : (
            <p>
              {t('audit.oneRecord')}{' '}
              <Link href={toTrail(entity === '' ? {} : { entity })}>{t('audit.allRecords')}</Link>
            </p>
          )}
        </search>
        {query.error !== null && items.length === 0 ? (
          <FailedNote error={query.error} onRetry={() => void query.refetch()} />
        ) : null}
        {query.isPending ? <LoadingNote text={t('state.loading')} /> : null}
        {query.isSuccess && items.length === 0 ? (
          <StateNote title={t('audit.none')}>{t('audit.noneText')}</StateNote>
        ) : null}
        {items.length === 0 ? null : (
          <AuditTable rows={items} more={<ListEnd query={query} />} isOfOne={entityId !== ''} />
        )}
      </StackedPanels>
    </>
  );
}
