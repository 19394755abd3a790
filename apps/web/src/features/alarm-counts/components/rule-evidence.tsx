'use client';

import type { AlarmEvidence } from '@repo/contracts';
import { useState } from 'react';
import { useDates, useTranslate } from '@/lib/i18n/i18n';
import { Button } from '@/ui/button';
import { Panel } from '@/ui/panel';
import { Table } from '@/ui/table';
import { toAlarms, toWindow } from '../rule-words';
import styles from './counts.module.css';

/** So many intervals are shown at first, the latest. */
const AT_FIRST = 10;

/** Why a rule opened an issue: what it looks for, what was counted, and when. */
export function RuleEvidence({ evidence }: { evidence: AlarmEvidence }) {
  const t = useTranslate();
  const dates = useDates();
  const [isAll, setAll] = useState(false);
  const { rule, intervals } = evidence;
  const latest = intervals.toReversed();
  const rows = isAll ? latest : latest.slice(0, AT_FIRST);
  return (
    <Panel title={t('evidence.title')}>
      <p>
        {t('evidence.counted', {
          count: intervals.length,
          total: evidence.total,
          kind: toAlarms(rule.alarmKind, t),
          most: evidence.most,
          window: toWindow(rule.windowS, t),
        })}
      </p>
      <p className={styles['quiet']}>
        {t('rule.says', {
          threshold: rule.threshold,
          kind: toAlarms(rule.alarmKind, t),
          window: toWindow(rule.windowS, t),
        })}
      </p>
      <Table
        caption={t('evidence.intervals')}
        rows={rows}
        rowKey={(one) => `${one.from} ${one.to} ${one.sourceId}`}
        columns={[
          { key: 'from', title: t('evidence.from'), isName: true, cell: (one) => dates.atTime(one.from) },
          { key: 'to', title: t('evidence.to'), cell: (one) => dates.atTime(one.to) },
          { key: 'count', title: t('evidence.alarms'), isNumber: true, cell: (one) => one.count },
        ]}
      />
      {isAll || latest.length <= AT_FIRST ? null : (
        <Button onClick={() => setAll(true)}>{t('evidence.all', { count: latest.length })}</Button>
      )}
    </Panel>
  );
}
