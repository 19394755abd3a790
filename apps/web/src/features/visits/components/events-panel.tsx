'use client';

import { routes } from '@repo/contracts';
import { useApiPages } from '@/lib/api/hooks';
import { useDates, useTranslate } from '@/lib/i18n/i18n';
import { FailedNote } from '@/lib/states';
import { MoreButton } from '@/lib/more-button';
import { FormActions } from '@/ui/field';
import { StateNote } from '@/ui/notice';
import { Panel } from '@/ui/panel';
import { Table } from '@/ui/table';
import { AddEvent } from './event-form';

/** What was done to a machine, newest first. */
export function EventsPanel({ machineId }: { machineId: string }) {
  const t = useTranslate();
  const dates = useDates();
  const { query, items } = useApiPages(routes.serviceEvents.list, { query: { machineId, limit: 20 } });
  return (
    <Panel title={t('visits.events')} id="events">
      {query.error !== null && items.length === 0 ? (
        <FailedNote error={query.error} onRetry={() => void query.refetch()} />
      ) : null}
      {query.isSuccess && items.length === 0 ? (
        <StateNote title={t('visits.none')}>{t('visits.noneText')}</StateNote>
      ) : null}
      {items.length === 0 ? null : (
        <Table
          caption={t('visits.events')}
          rows={items}
          rowKey={(row) => row.id}
          columns={[
            { key: 'when', title: t('visits.when'), isName: true, cell: (row) => dates.atDay(row.occurredAt) },
            {
              key: 'what',
              title: t('visits.what'),
              cell: (row) =>
                t(row.circuitName === null ? 'visits.event' : 'visits.eventAt', {
                  kind: t(`visits.kind.${row.kind}`),
                  circuit: row.circuitName ?? '',
                  text: row.text,
                }),
            },
            { key: 'who', title: t('visits.who'), cell: (row) => row.personName },
          ]}
        />
      )}
      <FormActions>
        <MoreButton query={query} />
        <AddEvent machineId={machineId} />
      </FormActions>
    </Panel>
  );
}
