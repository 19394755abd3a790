'use client';

import { routes, type ServiceEvent } from '@repo/contracts';
import { useApiPages } from '@/lib/api/hooks';
import { useDates, useTranslate } from '@/lib/i18n/i18n';
import { useMachineOverview } from '@/lib/machine-overview';
import { FailedNote } from '@/lib/states';
import { ListEnd } from '@/lib/list-end';
import { FormActions } from '@/ui/field';
import { StateNote } from '@/ui/notice';
import { Panel } from '@/ui/panel';
import { Table } from '@/ui/table';
import { AddEvent } from './event-form';

/** So many components stand there by name; of more, the others are a press away. */
const NAMED = 4;

/** What a person wrote. */
function Written({ event }: { event: ServiceEvent }) {
  const t = useTranslate();
  return t(event.circuitName === null ? 'visits.event' : 'visits.eventAt', {
    kind: t(`visits.kind.${event.kind}`),
    circuit: event.circuitName ?? '',
    text: event.text,
  });
}

type Done = ServiceEvent['components'][number];

function useNaming(): (component: Done) => string {
  const t = useTranslate();
  const withSerial = ({ componentTypeName, serial }: Pick<Done, 'componentTypeName' | 'serial'>): string =>
    serial === '' ? componentTypeName : t('visits.component.serial', { name: componentTypeName, serial });
  return (component) =>
    t(component.replaced === null ? 'visits.component' : 'visits.component.replaced', {
      designation: component.designation,
      name: withSerial(component),
      before: component.replaced === null ? '' : withSerial(component.replaced),
    });
}

/** What the components' own records say. */
function WithComponents({ event }: { event: ServiceEvent }) {
  const t = useTranslate();
  const nameOf = useNaming();
  const names = event.components.map(nameOf);
  const isLong = names.length > NAMED;
  const line = t(event.circuitName === null ? 'visits.event' : 'visits.eventAt', {
    kind: t(`visits.kind.${event.kind}`),
    circuit: event.circuitName ?? '',
    text: isLong ? t('visits.components', { count: names.length }) : names.join('; '),
  });
  return (
    <>
      {line}
      {event.text === '' ? null : ` (${event.text})`}
      {isLong ? (
        <details>
          <summary>{t('visits.components.which')}</summary>
          <ul>
            {event.components.map((component) => (
              <li key={component.id}>{nameOf(component)}</li>
            ))}
          </ul>
        </details>
      ) : null}
    </>
  );
}

/** What was done to a machine, newest first: what people wrote, and what was fitted, exchanged and removed. */
export function EventsPanel({ machineId }: { machineId: string }) {
  const t = useTranslate();
  const dates = useDates();
  // As everything else on the page of the machine: by its clock, not by the reader's.
  const timeZone = useMachineOverview(machineId).query.data?.data.machine.timeZone ?? 'UTC';
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
          rowKey={(row) => `${row.kind}${row.id}`}
          columns={[
            {
              key: 'when',
              title: t('visits.when'),
              isName: true,
              cell: (row) => dates.atDay(row.occurredAt, timeZone),
            },
            {
              key: 'what',
              title: t('visits.what'),
              cell: (row) => (row.components.length === 0 ? <Written event={row} /> : <WithComponents event={row} />),
            },
            { key: 'who', title: t('visits.who'), cell: (row) => row.personName },
          ]}
        />
      )}
      <FormActions>
        <ListEnd query={query} />
        <AddEvent machineId={machineId} />
      </FormActions>
    </Panel>
  );
}
