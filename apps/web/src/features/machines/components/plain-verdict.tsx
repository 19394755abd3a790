'use client';

import type { Standing } from '@repo/contracts';
import { useTranslate } from '@/lib/i18n/i18n';
import { CheckSentence } from '@/lib/pressure-ladder/sentences';
import { Status } from '@/lib/status/status';
import styles from './machine.module.css';

/** How a circuit stands, for people who do not size circuits. */
export function PlainVerdict({ standing }: { standing: Standing | null }) {
  const t = useTranslate();
  if (standing === null) return <p>{t('portal.notComputed')}</p>;
  const troubling = standing.checks.filter((check) => check.status === 'fails' || check.status === 'marginal');
  return (
    <div className={styles['plain']}>
      {standing.awaitsSince === null ? null : <p>{t('portal.verdict.awaits')}</p>}
      <p>
        <Status status={standing.status} /> {t(`portal.verdict.${standing.status}`)}
      </p>
      {troubling.map((check) => (
        <p key={check.code}>
          <CheckSentence check={check} />
        </p>
      ))}
    </div>
  );
}
