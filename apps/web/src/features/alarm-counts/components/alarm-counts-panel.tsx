'use client';

import { routes } from '@repo/contracts';
import { useMemo, useState } from 'react';
import { useApi } from '@/lib/api/hooks';
import { useTranslate } from '@/lib/i18n/i18n';
import { Loaded } from '@/lib/states';
import { Segments } from '@/ui/segments';
import { Panel } from '@/ui/panel';
import { AlarmRules } from './alarm-rules';
import { CircuitCounts } from './circuit-counts';
import styles from './counts.module.css';

const PERIODS = { week: 7, month: 35, year: 365 } as const;
type Period = keyof typeof PERIODS;
const HOUR_MS = 3_600_000;

/** So many days up to the end of the running hour: the same address for an hour, so that it can be kept. */
function usePeriod(period: Period) {
  return useMemo(() => {
    const to = Math.ceil(Date.now() / HOUR_MS) * HOUR_MS;
    return { from: new Date(to - PERIODS[period] * 24 * HOUR_MS).toISOString(), to: new Date(to).toISOString() };
  }, [period]);
}

/** "Does it get worse?" */
export function AlarmCountsPanel({ machineId }: { machineId: string }) {
  const t = useTranslate();
  const [period, setPeriod] = useState<Period>('month');
  const query = useApi(
    routes.alarmCounts.ofMachine,
    { params: { id: machineId }, query: usePeriod(period) },
    { isSticky: true },
  );
  return (
    <Panel
      id="counts"
      title={t('counts.title')}
      note={
        <Segments<Period>
          label={t('counts.period')}
          value={period}
          choices={[
            { value: 'week', label: t('counts.period.week') },
            { value: 'month', label: t('counts.period.month') },
            { value: 'year', label: t('counts.period.year') },
          ]}
          onChange={setPeriod}
        />
      }
    >
      <Loaded query={query}>
        {({ data }) => {
          const reported = data.circuits.filter((circuit) => circuit.buckets.length > 0);
          return (
            <>
              {reported.length === 0 ? (
                <p className={styles['quiet']}>{t('counts.none')}</p>
              ) : (
                <>
                  <p className={styles['quiet']}>
                    {t('counts.under', { bucket: t(`counts.by.${data.bucket}`), zone: data.timeZone })}
                    <span className={styles['legend']}>
                      <svg width="16" height="12" aria-hidden="true">
                        <path d="M1 11L11 1M6 12L16 2M0 6L6 0" className={styles['hatch']} />
                      </svg>
                      {t('counts.legend.gap')}
                    </span>
                    <span className={styles['legend']}>
                      <svg width="16" height="12" aria-hidden="true">
                        <rect y="8" width="16" height="3" className={styles['revisedMark']} />
                      </svg>
                      {t('counts.legend.revised')}
                    </span>
                  </p>
                  {reported.map((circuit) => (
                    <CircuitCounts key={circuit.circuitId} counts={data} circuit={circuit} />
                  ))}
                </>
              )}
              <AlarmRules machineId={machineId} circuits={data.circuits} />
            </>
          );
        }}
      </Loaded>
    </Panel>
  );
}
