'use client';

import { routes, type SizingRecord, type StaleReason } from '@repo/contracts';
import { Link } from '@/ui/link';
import { useMemo, useState } from 'react';
import { useApi, useApiChange } from '@/lib/api/hooks';
import { ToldChanges } from '@/lib/changes/told-changes';
import { useDates, useTranslate, type Translate } from '@/lib/i18n/i18n';
import { CheckList } from '@/lib/pressure-ladder/check-list';
import { PressureLadderView, type SelectedRung } from '@/lib/pressure-ladder/pressure-ladder-view';
import { RungDetail } from '@/lib/pressure-ladder/rung-detail';
import { UnitSwitch } from '@/lib/quantity/unit-switch';
import { Loaded, useProblemText } from '@/lib/states';
import { Button } from '@/ui/button';
import { Notice, StateNote } from '@/ui/notice';
import { Facts, PageHead, Panel } from '@/ui/panel';
import { MainAndAside, StackedPanels } from '@/ui/stack';
import { Table } from '@/ui/table';
import { InputTree } from './input-tree';
import styles from './sizing.module.css';

function Replay({ record }: { record: SizingRecord }) {
  const t = useTranslate();
  const toText = useProblemText();
  const replay = useApiChange(routes.sizingRecords.replay);
  const result = replay.data?.data;
  return (
    <Panel title={t('sizing.proof')}>
      <Facts
        rows={[
          { name: t('sizing.hash'), value: <code className={styles['hash']}>{record.sha256}</code> },
          { name: t('sizing.calculationVersion'), value: <code>{record.calculationVersion}</code> },
          { name: t('sizing.runtimeVersion'), value: <code>{record.runtimeVersion}</code> },
        ]}
      />
      <div className={styles['actions']}>
        <Button disabled={replay.isPending} onClick={() => replay.mutate({ params: { id: record.id } })}>
          {replay.isPending ? t('sizing.replaying') : t('sizing.replay')}
        </Button>
        <a
          className={styles['file']}
          download={`sizing-${record.number}.json`}
          href={toFileAddress(record.canonicalText)}
        >
          {t('sizing.download')}
        </a>
      </div>
      {replay.error === null ? null : <Notice role="alert">{toText(replay.error)}</Notice>}
      <div role="status">
        {result === undefined ? null : result.same ? (
          <p>{t('sizing.same')}</p>
        ) : (
          <>
            <p>{t('sizing.differs', { then: result.recordedCalculationVersion, now: result.calculationVersion })}</p>
            <Table
              caption={t('sizing.differences')}
              rows={result.differences}
              rowKey={(row) => row.pointer}
              columns={[
                { key: 'where', title: t('sizing.where'), isName: true, cell: (row) => <code>{row.pointer}</code> },
                { key: 'then', title: t('sizing.then'), cell: (row) => <code>{row.recorded}</code> },
                { key: 'now', title: t('sizing.now'), cell: (row) => <code>{row.replayed}</code> },
              ]}
            />
          </>
        )}
      </div>
    </Panel>
  );
}

const toFileAddress = (text: string): string => `data:application/json;charset=utf-8,${encodeURIComponent(text)}`;

/** "component H1 hose, VMC-1": the kind of record, its name, and its machine where that is another one. */
function toSubject(t: Translate, { entity, subject }: StaleReason): string {
  const kind = t.find(`audit.entity.${entity}`) ?? entity;
  if (subject === null) return kind;
  const { name, machineName } = subject;
  return `${kind} ${machineName === null || machineName === name ? name : `${name}, ${machineName}`}`;
}

function Standing({ record }: { record: SizingRecord }) {
  const t = useTranslate();
  const dates = useDates();
  if (record.currency !== 'stale') return <p>{t(`sizing.currencyText.${record.currency}`)}</p>;
  return (
    <>
      <p>{t('sizing.currencyText.stale')}</p>
      <ul>
        {record.staleReasons.map((reason) => (
          <li key={`${reason.entityId}${reason.at}`}>
            {t('sizing.staleBecause', {
              what: toSubject(t, reason),
              change: t.find(`audit.action.${reason.change}`) ?? reason.change,
              date: dates.atTime(reason.at),
              name: reason.byName,
            })}
            {Object.keys(reason.changes).length === 0 ? null : <ToldChanges {...reason} />}
          </li>
        ))}
      </ul>
    </>
  );
}

function Shown({ record }: { record: SizingRecord }) {
  const t = useTranslate();
  const dates = useDates();
  const [selected, setSelected] = useState<SelectedRung | null>(null);
  const { circuit, result, input } = record.document;
  const circuits = useMemo(
    () => [{ id: circuit.id, title: circuit.name, subtitle: circuit.machineName, ladder: result }],
    [circuit, result],
  );
  return (
    <>
      <PageHead
        crumbsLabel={t('nav.crumbs')}
        crumbs={[{ name: circuit.machineName, href: `/machines/${circuit.machineId}?circuit=${circuit.id}` }]}
        title={
          record.currency === 'current'
            ? t(`sizing.pageTitle.${result.status}`, { number: record.number, name: circuit.name })
            : t(`sizing.pageTitleThen.${result.status}`, {
                number: record.number,
                name: circuit.name,
                currency: t(`sizing.currency.${record.currency}`),
              })
        }
        under={t('sizing.pageUnder', {
          date: dates.atTime(record.createdAt),
          name: record.createdByName,
          basis: t(`sizing.basis.${record.basis}`),
        })}
        actions={<UnitSwitch />}
      />
      <MainAndAside
        main={
          <>
            <Panel title={t('pressureLadder.title')}>
              <PressureLadderView circuits={circuits} selected={selected} onSelect={setSelected} />
              <div role="status">
                {selected === null ? null : <RungDetail ladder={result} rungId={selected.rungId} />}
              </div>
            </Panel>
            <Panel title={t('sizing.inputs')} note={t('sizing.inputsNote')}>
              <InputTree value={input} />
            </Panel>
          </>
        }
        aside={
          <StackedPanels>
            <Panel title={t(`sizing.currencyTitle.${record.currency}`)}>
              <Standing record={record} />
              {record.note === '' ? null : <p>{record.note}</p>}
              <p>
                <Link href={`/machines/${record.machineId}?circuit=${record.circuitId}#sizing`}>
                  {t('sizing.allOfCircuit')}
                </Link>
              </p>
            </Panel>
            <Panel title={t('machine.checksOf', { name: circuit.name })}>
              <CheckList checks={result.checks} />
            </Panel>
            <Replay record={record} />
          </StackedPanels>
        }
      />
    </>
  );
}

/** A sizing record: immutable; every number opens to what it was made from, and the whole can be computed again. */
export function SizingRecordPage({ recordId }: { recordId: string }) {
  const t = useTranslate();
  const query = useApi(routes.sizingRecords.get, { params: { id: recordId } });
  return (
    <Loaded isPage query={query}>
      {({ data }) =>
        data.document === undefined ? <StateNote title={t('state.failed.title')} /> : <Shown record={data} />
      }
    </Loaded>
  );
}
