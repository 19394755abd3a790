'use client';

import { routes, type SourceDetail } from '@repo/contracts';
import { FindingsPanel } from '@/features/findings';
import { useApi, useApiChange, useApiPages } from '@/lib/api/hooks';
import { FormDialog } from '@/lib/forms';
import { useDates, useTranslate } from '@/lib/i18n/i18n';
import { useMay } from '@/lib/session/session';
import { Loaded, useProblemText } from '@/lib/states';
import { ListEnd } from '@/lib/list-end';
import { Button } from '@/ui/button';
import { Notice } from '@/ui/notice';
import { Facts, PageHead, Panel } from '@/ui/panel';
import { MainAndAside } from '@/ui/stack';
import { Table } from '@/ui/table';
import { ChangeSourceForm } from './source-form';
import { MapMachineForm, SourceMachinesPanel } from './source-machines';
import { SecretsPanel } from './source-secret';
import { ClockOffset, SourceState } from './source-words';
import styles from './sources.module.css';

function useTitle(source: SourceDetail): string {
  const t = useTranslate();
  const dates = useDates();
  const { name } = source;
  if (source.archivedAt !== null) return t('sources.detail.archived', { name });
  if (source.lastHeardAt === null) return t('sources.detail.never', { name });
  return source.isSilent
    ? t('sources.detail.silent', { name, time: dates.atTime(source.lastHeardAt) })
    : t('sources.detail.reports', { name });
}

function Actions({ source, etag }: { source: SourceDetail; etag: string | null }) {
  const t = useTranslate();
  const may = useMay();
  const toText = useProblemText();
  const change = useApiChange(routes.sources.update);
  if (!may(routes.sources.update)) return null;
  const isArchived = source.archivedAt !== null;
  return (
    <>
      <FormDialog action={t('sources.change')} title={t('sources.change')}>
        {(close) => <ChangeSourceForm source={source} etag={etag} onDone={close} />}
      </FormDialog>
      <Button
        disabled={change.isPending}
        onClick={() =>
          change.mutate({ params: { id: source.id }, etag: etag ?? undefined, body: { archived: !isArchived } })
        }
      >
        {isArchived ? t('sources.restore') : t('sources.archive')}
      </Button>
      {change.error === null ? null : <Notice role="alert">{toText(change.error)}</Notice>}
    </>
  );
}

function Gaps({ source }: { source: SourceDetail }) {
  const t = useTranslate();
  const dates = useDates();
  if (source.gaps.length === 0) {
    const minutes = Math.round(source.silentAfterS / 60);
    const [count, unit] = minutes < 120 ? [minutes, 'min'] : [Math.round(minutes / 6) / 10, 'h'];
    return <p className={styles['quiet']}>{t('sources.gapsNone', { count, unit })}</p>;
  }
  const hours = (gap: SourceDetail['gaps'][number]): number =>
    Math.round((Date.parse(gap.to ?? new Date().toISOString()) - Date.parse(gap.from)) / 360_000) / 10;
  return (
    <Table
      caption={t('sources.gaps')}
      rows={source.gaps}
      rowKey={(gap) => gap.from}
      columns={[
        { key: 'from', title: t('counts.from'), isName: true, cell: (gap) => dates.atTime(gap.from) },
        {
          key: 'to',
          title: t('counts.to'),
          cell: (gap) => (gap.to === null ? t('sources.gapOpen') : dates.atTime(gap.to)),
        },
        {
          key: 'length',
          title: t('sources.gapLength'),
          isNumber: true,
          cell: (gap) => t('sources.hours', { hours: hours(gap) }),
        },
      ]}
    />
  );
}

function Deliveries({ sourceId }: { sourceId: string }) {
  const t = useTranslate();
  const dates = useDates();
  const { query, items } = useApiPages(routes.sources.listDeliveries, {
    params: { id: sourceId },
    query: { limit: 8 },
  });
  return (
    <Panel title={t('sources.deliveries')}>
      {query.isSuccess && items.length === 0 ? <p className={styles['quiet']}>{t('sources.deliveriesNone')}</p> : null}
      {items.length === 0 ? null : (
        <Table
          caption={t('sources.deliveries')}
          rows={items}
          rowKey={(one) => one.id}
          columns={[
            { key: 'id', title: t('sources.webhookId'), isName: true, cell: (one) => <code>{one.webhookId}</code> },
            { key: 'received', title: t('sources.received'), cell: (one) => dates.atTime(one.receivedAt) },
            {
              key: 'sent',
              title: t('sources.sent'),
              cell: (one) => (one.sentAt === null ? '' : dates.atTime(one.sentAt)),
            },
            { key: 'intervals', title: t('sources.intervals'), isNumber: true, cell: (one) => one.intervals },
            { key: 'aside', title: t('sources.setAside'), isNumber: true, cell: (one) => one.setAside },
          ]}
        />
      )}
      <ListEnd query={query} />
    </Panel>
  );
}

function Shown({ source, etag }: { source: SourceDetail; etag: string | null }) {
  const t = useTranslate();
  const dates = useDates();
  return (
    <>
      <PageHead
        crumbsLabel={t('nav.crumbs')}
        crumbs={[{ name: t('nav.sources'), href: '/sources' }]}
        title={useTitle(source)}
        under={source.archivedAt === null ? undefined : t('sources.archivedText')}
        actions={<Actions source={source} etag={etag} />}
      />
      <MainAndAside
        main={
          <>
            <FindingsPanel
              sourceId={source.id}
              toMapForm={(reference, onDone) => (
                <MapMachineForm sourceId={source.id} reference={reference} onDone={onDone} />
              )}
            />
            <Deliveries sourceId={source.id} />
          </>
        }
        aside={
          <>
            <Panel title={t('sources.facts')}>
              <Facts
                rows={[
                  { name: t('sources.state'), value: <SourceState source={source} /> },
                  {
                    name: t('sources.lastHeard'),
                    value: source.lastHeardAt === null ? t('sources.never') : dates.atTime(source.lastHeardAt),
                  },
                  { name: t('sources.clock'), value: <ClockOffset source={source} /> },
                  {
                    name: t('sources.address'),
                    value: <code className={styles['address']}>{`/api/v1/sources/${source.id}/alarm-counts`}</code>,
                  },
                ]}
              />
            </Panel>
            <Panel title={t('sources.gaps')}>
              <Gaps source={source} />
            </Panel>
            <SecretsPanel source={source} />
            <SourceMachinesPanel sourceId={source.id} />
          </>
        }
      />
    </>
  );
}

/** "Does this gateway report, and is what it says clear?" */
export function SourcePage({ sourceId }: { sourceId: string }) {
  const query = useApi(routes.sources.get, { params: { id: sourceId } });
  return (
    <Loaded isPage query={query}>
      {({ data, etag }) => <Shown source={data} etag={etag} />}
    </Loaded>
  );
}
