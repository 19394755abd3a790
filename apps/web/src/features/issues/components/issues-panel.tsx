'use client';

import { routes } from '@repo/contracts';
import { Link } from '@/ui/link';
import { useApiPages } from '@/lib/api/hooks';
import { useDates, useTranslate } from '@/lib/i18n/i18n';
import { FailedNote } from '@/lib/states';
import { ButtonLink } from '@/ui/button';
import { Panel } from '@/ui/panel';
import styles from './issues.module.css';

/** Open issues of one machine. */
export function IssuesPanel({ machineId }: { machineId: string }) {
  const t = useTranslate();
  const dates = useDates();
  const { query, items } = useApiPages(routes.issues.list, { query: { machineId, state: 'open', limit: 20 } });
  return (
    <Panel title={t('issues.open')}>
      {query.error !== null && items.length === 0 ? (
        <FailedNote error={query.error} onRetry={() => void query.refetch()} />
      ) : null}
      {query.isSuccess && items.length === 0 ? <p className={styles['quiet']}>{t('issues.noneOpen')}</p> : null}
      <ul className={styles['short']}>
        {items.map((issue) => (
          <li key={issue.id}>
            <Link href={`/issues/${issue.id}`}>
              {t('issues.numbered', { number: issue.number, title: issue.title })}
            </Link>
            <span>
              {dates.atDay(issue.openedAt)} · {issue.assigneeName ?? t('issues.nobody')}
            </span>
          </li>
        ))}
      </ul>
      <ButtonLink href={`/issues/new?machine=${machineId}`}>{t('issues.new')}</ButtonLink>
    </Panel>
  );
}
