'use client';

import { isRight } from '@repo/calc/checks';
import type { CircuitOverview } from '@repo/contracts';
import { useDates, useTranslate } from '@/lib/i18n/i18n';
import { getWorst } from '@/lib/pressure-ladder/rungs';
import { CheckSentence } from '@/lib/pressure-ladder/sentences';
import { WayOut } from '@/lib/pressure-ladder/way-out';
import { Status } from '@/lib/status/status';
import { toldChecks } from '../told-checks';
import styles from './machine.module.css';

const RECENT_MS = 90 * 24 * 3600 * 1000;

/** As on which day, and by which settings. */
interface View {
  readonly asOn: string;
  readonly basis: 'as-left' | 'target';
  /** undefined: as it is now */
  readonly day: string | undefined;
}

/** One circuit's reason and way out: its worst checks, what changed shortly before, and what mends it. */
function CircuitVerdict({ overview, timeZone, view }: { overview: CircuitOverview; timeZone: string; view: View }) {
  const t = useTranslate();
  const dates = useDates();
  const { ladder, circuit, fixture } = overview;
  const worst = ladder.checks.filter((check) => check.status === ladder.status);
  const isAboutFixture = worst.some((check) => check.subject?.name === fixture?.name);
  const isRecent = fixture !== null && Date.parse(view.asOn) - Date.parse(fixture.validFrom) < RECENT_MS;
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
      <WayOut circuitId={circuit.id} basis={view.basis} asOn={view.day} isMissingTold={ladder.status === 'unproven'} />
    </li>
  );
}

/** Above everything else on the machine page; absent while all is right. */
export function Verdict({
  circuits,
  timeZone,
  view,
}: {
  circuits: readonly CircuitOverview[];
  timeZone: string;
  view: View;
}) {
  const status = getWorst(circuits.map((circuit) => circuit.ladder.status));
  if (isRight({ status })) return null;
  const troubling = circuits.filter(({ ladder }) => !isRight(ladder));
  return (
    <div className={`${styles['verdict']} ${styles[status]}`}>
      <Status status={status} />
      <ul>
        {troubling.slice(0, 4).map((overview) => (
          <CircuitVerdict key={overview.circuit.id} overview={overview} timeZone={timeZone} view={view} />
        ))}
      </ul>
    </div>
  );
}
