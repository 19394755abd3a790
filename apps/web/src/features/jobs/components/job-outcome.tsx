'use client';

import type { Job, ProblemError } from '@repo/contracts';
import { Link } from '@/ui/link';
import { useTranslate, type Translate } from '@/lib/i18n/i18n';
import styles from './jobs.module.css';

const COUNTS = ['rows', 'records', 'circuits'] as const;

const sayResult = (t: Translate, result: Record<string, unknown>): string =>
  t.list(
    COUNTS.flatMap((name) => {
      const count = result[name];
      return typeof count === 'number' && count > 0 ? [t(`jobs.${name}`, { count })] : [];
    }),
  );

/** Why a file cannot be read: the service names the reason, and what it says of where as JSON. */
const sayUnreadable = (t: Translate, errors: readonly ProblemError[]): string[] =>
  errors.flatMap(({ code, got }) => {
    const reason = t.find(`imports.unreadable.${code}`, JSON.parse(got) as Record<string, string | number>);
    return reason === null ? [] : [reason];
  });

/** What came of a job: its result and where to see it, or what went wrong and at which row. */
export function JobOutcome({ job }: { job: Job }) {
  const t = useTranslate();
  const { importId, fileName } = job.parameters;
  const builtUpon = job.problem?.code === 'import.built-upon' ? (job.problem.errors ?? []) : [];
  const unreadable = job.problem?.code === 'import.unreadable' ? sayUnreadable(t, job.problem.errors ?? []) : [];
  return (
    <div className={styles['outcome']}>
      {job.problem === null ? null : (
        <div>
          <p>{t.find(`problem.${job.problem.code}`) ?? t('problem.unknown')}</p>
          {unreadable.map((text) => (
            <p key={text} className={styles['quiet']}>
              {text}
            </p>
          ))}
          {builtUpon.length === 0 ? null : (
            <ul className={styles['quiet']}>
              {builtUpon.map(({ pointer, got, code }) => (
                <li key={`${pointer} ${code}`}>
                  {t('jobs.builtUpon', { name: got, what: t.find(`jobs.builtUpon.${code}`) ?? code })}
                </li>
              ))}
            </ul>
          )}
        </div>
      )}
      {job.result === null ? null : <p>{sayResult(t, job.result)}</p>}
      {typeof importId === 'string' ? (
        <Link href={`/imports/${importId}`}>{typeof fileName === 'string' ? fileName : t('jobs.open')}</Link>
      ) : null}
    </div>
  );
}
