'use client';

import type { SilenceEvidence as Evidence } from '@repo/contracts';
import { useDates, useTranslate } from '@/lib/i18n/i18n';
import { Panel } from '@/ui/panel';
import { Table } from '@/ui/table';
import { toWindow } from '../rule-words';
import styles from './counts.module.css';

/** Why an issue was opened for reports that stopped: by which rule, when they did, and whether they came again. */
export function SilenceEvidence({ evidence }: { evidence: Evidence }) {
  const t = useTranslate();
  const dates = useDates();
  return (
    <Panel title={t('evidence.title')}>
      <p className={styles['quiet']}>
        {t('silence.rule', { source: evidence.sourceName, window: toWindow(evidence.silentAfterS, t) })}
      </p>
      <Table
        caption={t('silence.list')}
        rows={evidence.silences.toReversed()}
        rowKey={(silence) => silence.since}
        columns={[
          { key: 'since', title: t('silence.since'), isName: true, cell: (silence) => dates.atTime(silence.since) },
          {
            key: 'until',
            title: t('silence.until'),
            cell: (silence) => (silence.until === null ? t('silence.still') : dates.atTime(silence.until)),
          },
        ]}
      />
    </Panel>
  );
}
