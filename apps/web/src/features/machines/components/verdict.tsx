'use client';

import type { CircuitOverview } from '@repo/contracts';
import { useDates, useTranslate } from '@/lib/i18n/i18n';
import { getWorst } from '@/lib/pressure-ladder/rungs';
import { CheckSentence } from '@/lib/pressure-ladder/sentences';
import { WayOut } from '@/lib/pressure-ladder/way-out';
import { Status } from '@/lib/status/status';
import { toldChecks } from '../told-checks';
import styles from './machine.module.css';

const RECENT_MS = 90 * 24 * 3600 * 1000;

/** One circuit's reason and way out: its worst checks, what changed shortly before, and what mends it. */
function CircuitVerdict({ overview, timeZone, asOn }: { overview: CircuitOverview; timeZone: string; asOn: string }) {
  const t = useTranslate();
  const dates = useDates();
  const { ladder, circuit, fixture, wayOut } = overview;
  const worst = ladder.checks.filter((check) => check.status === ladder.status);
  const isAboutFixture = worst.some((check) => check.subject?.name === fixture?.name);
  const isRecent = fixture !== null && Date.parse(asOn) - Date.parse(fixture.validFrom) < RECENT_MS;
  return (
    <li>
      <strong>{circuit.name}:</strong>{' '}
      {fixture !== null && isRecent && isAboutFixture && fixture.previousName !== null
        ? `${t('machine.fixtureChanged', {
            name: fixture.name,
            previous: fixture.previousName,
            date: dates.atDay(fixture.validFrom, timeZone),
          })} `
        : null}
      {toldChecks(ladder).map((check) => (
        <span key={check.code}>
          <CheckSentence check={check} />{' '}
        </span>
      ))}
      {ladder.status === 'unproven' && wayOut?.changes.length === 0 ? null : <WayOut wayOut={wayOut} />}
    </li>
  );
}

/** Above everything else on the machine page; absent while all is right. */
export function Verdict({
  circuits,
  timeZone,
  asOn,
}: {
  circuits: readonly CircuitOverview[];
  timeZone: string;
  asOn: string;
}) {
  const status = getWorst(circuits.map((circuit) => circuit.ladder.status));
  if (status === 'holds' || status === 'not-applicable') return null;
  const troubling = circuits.filter(({ ladder }) => ladder.status !== 'holds' && ladder.status !== 'not-applicable');
  return (
    <div className={`${styles['verdict']} ${styles[status]}`}>
      <Status status={status} />
      <ul>
        {troubling.slice(0, 4).map((overview) => (
          <CircuitVerdict key={overview.circuit.id} overview={overview} timeZone={timeZone} asOn={asOn} />
        ))}
      </ul>
    </div>
  );
}
