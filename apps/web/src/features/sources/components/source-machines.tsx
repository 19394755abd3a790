'use client';

import { routes, type Machine } from '@repo/contracts';
import { Link } from '@/ui/link';
import { useApiChange, useApiPages } from '@/lib/api/hooks';
import { combo, FormDialog, RecordForm, text, useRecordForm } from '@/lib/forms';
import { useTranslate } from '@/lib/i18n/i18n';
import { useSearchedChoices } from '@/lib/searched-list';
import { useMay } from '@/lib/session/session';
import { ListEnd } from '@/lib/list-end';
import { Button } from '@/ui/button';
import { Panel } from '@/ui/panel';
import { Table } from '@/ui/table';
import styles from './sources.module.css';

const ALL = {};
const toChoice = ({ id, name, customerName }: Machine) => ({ value: id, label: `${name}, ${customerName}` });
const GROUPS = [{ fields: ['externalReference', 'machineId'] }] as const;

export function MapMachineForm({
  sourceId,
  reference = '',
  onDone,
}: {
  sourceId: string;
  reference?: string;
  onDone: () => void;
}) {
  const t = useTranslate();
  const { choices, setSearch } = useSearchedChoices(routes.machines.list, ALL, toChoice);
  const fields = {
    externalReference: text({ label: 'sources.reference', isRequired: true, maxLength: 200 }),
    machineId: combo({
      label: 'sources.machine',
      isRequired: true,
      choices,
      onSearch: setSearch,
      emptyText: t('sources.noMachineFits'),
    }),
  };
  const form = useRecordForm({
    name: `source-map-${sourceId}-${reference}`,
    fields,
    initial: { externalReference: reference, machineId: '' },
  });
  const add = useApiChange(routes.sources.addMachine, {
    onDone: form.clearThen(onDone),
  });
  return (
    <RecordForm
      form={form}
      groups={GROUPS}
      label={t('sources.map')}
      submitText={t('sources.map')}
      isPending={add.isPending}
      onSubmit={(values) =>
        add.mutate({ params: { id: sourceId }, body: { id: form.id, ...values } }, { onError: form.takeFailure })
      }
    />
  );
}

export function SourceMachinesPanel({ sourceId }: { sourceId: string }) {
  const t = useTranslate();
  const may = useMay();
  const { query, items } = useApiPages(routes.sources.listMachines, {
    params: { id: sourceId },
    query: { limit: 12 },
  });
  const remove = useApiChange(routes.sources.removeMachine);
  const mayMap = may(routes.sources.addMachine);
  return (
    <Panel title={t('sources.mapping')}>
      {query.isSuccess && items.length === 0 ? <p className={styles['quiet']}>{t('sources.mappingNone')}</p> : null}
      {items.length === 0 ? null : (
        <Table
          caption={t('sources.mapping')}
          rows={items}
          rowKey={(one) => one.id}
          columns={[
            { key: 'reference', title: t('sources.reference'), isName: true, cell: (one) => one.externalReference },
            {
              key: 'machine',
              title: t('sources.machine'),
              cell: (one) => (
                <>
                  <Link href={`/machines/${one.machineId}`}>{one.machineName}</Link>, {one.customerName}
                </>
              ),
            },
            ...(mayMap
              ? [
                  {
                    key: 'actions',
                    title: t('sources.machine'),
                    isActions: true,
                    cell: (one: (typeof items)[number]) => (
                      <Button
                        look="plain"
                        disabled={remove.isPending}
                        onClick={() => remove.mutate({ params: { id: one.id } })}
                      >
                        {t('sources.unmap', { reference: one.externalReference })}
                      </Button>
                    ),
                  },
                ]
              : []),
          ]}
        />
      )}
      <div className={styles['below']}>
        <ListEnd query={query} />
        {mayMap ? (
          <FormDialog action={t('sources.map')} title={t('sources.map')}>
            {(close) => <MapMachineForm sourceId={sourceId} onDone={close} />}
          </FormDialog>
        ) : null}
      </div>
    </Panel>
  );
}
