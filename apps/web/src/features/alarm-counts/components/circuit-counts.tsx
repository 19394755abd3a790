'use client';

import type { AlarmCounts } from '@repo/contracts';
import { Link } from '@/ui/link';
import { useDates, useTranslate } from '@/lib/i18n/i18n';
import { Table } from '@/ui/table';
import { toKindName } from '../kind-name';
import { CountStrip, type StripBar } from './count-strip';
import styles from './counts.module.css';

type Circuit = AlarmCounts['circuits'][number];
const LENGTH_MS = { hour: 3_600_000, day: 86_400_000 };

/** Where an instant lies in the period, 0 to 1. */
function toShare(counts: AlarmCounts, instant: string): number {
  const [from, to] = [Date.parse(counts.from), Date.parse(counts.to)];
  return Math.min(1, Math.max(0, (Date.parse(instant) - from) / (to - from)));
}

function toBars(counts: AlarmCounts, circuit: Circuit, valueOf: (bucket: Circuit['buckets'][number]) => number) {
  const span = Date.parse(counts.to) - Date.parse(counts.from);
  return circuit.buckets.map((bucket): StripBar => ({
    start: toShare(counts, bucket.start),
    width: LENGTH_MS[counts.bucket] / span,
    value: valueOf(bucket),
    isRevised: bucket.revised > 0,
  }));
}

export function CircuitCounts({ counts, circuit }: { counts: AlarmCounts; circuit: Circuit }) {
  const t = useTranslate();
  const dates = useDates();
  const bucket = t(`counts.by.${counts.bucket}`);
  const gaps = circuit.gaps.map((gap) => ({
    start: toShare(counts, gap.from),
    width: toShare(counts, gap.to) - toShare(counts, gap.from),
  }));
  const kinds = counts.kinds.filter((kind) => (circuit.alarms[kind] ?? 0) > 0);
  const strips = [
    ...kinds.map((kind) => ({
      name: toKindName(kind, t),
      total: circuit.alarms[kind] ?? 0,
      bars: toBars(counts, circuit, (one) => one.alarms[kind] ?? 0),
      isStrong: true,
    })),
    {
      name: t('counts.cycles'),
      total: circuit.clampCycles,
      bars: toBars(counts, circuit, (one) => one.clampCycles),
      isStrong: false,
    },
  ];
  const notes = [
    ...(kinds.length === 0 ? [t('counts.noAlarms')] : []),
    ...(circuit.gaps.length === 0 ? [] : [t('counts.gaps', { count: circuit.gaps.length })]),
    ...(circuit.revisions.length === 0 ? [] : [t('counts.revisions', { count: circuit.revisions.length })]),
  ];
  return (
    <div className={styles['circuit']}>
      <h3>
        {circuit.circuitName}
        <span className={styles['notes']}>{notes.join(' · ')}</span>
        {circuit.openFindings === 0 ? null : (
          <Link href="/sources">{t('counts.findings', { count: circuit.openFindings })}</Link>
        )}
      </h3>
      {strips.map((strip) => (
        <div key={strip.name} className={styles['row']}>
          <span>{strip.name}</span>
          <CountStrip
            label={t('counts.chart', {
              circuit: circuit.circuitName,
              what: strip.name,
              bucket,
              total: strip.total,
              most: Math.max(0, ...strip.bars.map(({ value }) => value)),
            })}
            bars={strip.bars}
            gaps={gaps}
            isStrong={strip.isStrong}
          />
          <b>{strip.total}</b>
        </div>
      ))}
      <div className={styles['row']} aria-hidden="true">
        <span />
        <span className={styles['axis']}>
          <span>{dates.atDay(counts.from, counts.timeZone)}</span>
          <span>{dates.atDay(counts.to, counts.timeZone)}</span>
        </span>
        <span />
      </div>
      <CountTables counts={counts} circuit={circuit} kinds={kinds} />
    </div>
  );
}

function CountTables({ counts, circuit, kinds }: { counts: AlarmCounts; circuit: Circuit; kinds: readonly string[] }) {
  const t = useTranslate();
  const dates = useDates();
  const { timeZone } = counts;
  const at = (instant: string): string =>
    counts.bucket === 'day' ? dates.atDay(instant, timeZone) : dates.atTime(instant, timeZone);
  return (
    <details className={styles['tables']}>
      <summary>{t('counts.asTable')}</summary>
      <Table
        caption={t('counts.table', { circuit: circuit.circuitName })}
        rows={circuit.buckets}
        rowKey={(bucket) => bucket.start}
        columns={[
          { key: 'start', title: t('counts.from'), isName: true, cell: (bucket) => at(bucket.start) },
          ...kinds.map((kind) => ({
            key: kind,
            title: toKindName(kind, t),
            isNumber: true,
            cell: (bucket: Circuit['buckets'][number]) => bucket.alarms[kind] ?? 0,
          })),
          { key: 'cycles', title: t('counts.cycles'), isNumber: true, cell: (bucket) => bucket.clampCycles },
          {
            key: 'covered',
            title: t('counts.covered'),
            isNumber: true,
            cell: (bucket) => `${Math.round(bucket.coveredRatio * 100)} %`,
          },
          { key: 'revised', title: t('counts.revised'), isNumber: true, cell: (bucket) => bucket.revised },
        ]}
      />
      {circuit.gaps.length === 0 ? null : (
        <Table
          caption={t('counts.gapTable', { circuit: circuit.circuitName })}
          rows={circuit.gaps}
          rowKey={(gap) => gap.from}
          columns={[
            {
              key: 'from',
              title: t('counts.legend.gap'),
              isName: true,
              cell: (gap) => dates.atTime(gap.from, timeZone),
            },
            { key: 'to', title: t('counts.to'), cell: (gap) => dates.atTime(gap.to, timeZone) },
          ]}
        />
      )}
      {circuit.revisions.length === 0 ? null : (
        <Table
          caption={t('counts.revisionTable', { circuit: circuit.circuitName })}
          rows={circuit.revisions}
          rowKey={(one) => `${one.from} ${one.to}`}
          columns={[
            { key: 'from', title: t('counts.revised'), isName: true, cell: (one) => dates.atTime(one.from, timeZone) },
            { key: 'to', title: t('counts.to'), cell: (one) => dates.atTime(one.to, timeZone) },
            { key: 'revision', title: t('counts.revision'), isNumber: true, cell: (one) => one.revision },
            { key: 'cycles', title: t('counts.cycles'), isNumber: true, cell: (one) => one.clampCycles },
            { key: 'before', title: t('counts.before'), isNumber: true, cell: (one) => one.before },
          ]}
        />
      )}
    </details>
  );
}
