'use client';

import { isRight } from '@repo/calc/checks';
import type { Standing } from '@repo/contracts';
import type { ReactNode } from 'react';
import { useDates, useTranslate } from '@/lib/i18n/i18n';
import { Pressure } from '@/lib/quantity/number';
import { CheckSentence } from '@/lib/pressure-ladder/sentences';

const RECENT_MS = 90 * 24 * 3600 * 1000;

/** Fewer alarms than these in a week are no trend. */
const FEW = 5;

/** Every week more than the week before, and by now at least twice as many as at first. */
function isRising(weeks: readonly (number | null)[]): weeks is readonly number[] {
  const [first] = weeks;
  const last = weeks.at(-1);
  if (typeof first !== 'number' || typeof last !== 'number' || weeks.length < 2) return false;
  const grows = weeks.every((count, week) => week === 0 || (count ?? -1) > (weeks[week - 1] ?? Infinity));
  return grows && last >= FEW && last >= 2 * first;
}

/** How a circuit stands in a sentence, and whether its alarms rise: a circuit that holds on paper may be drifting. */
export function StandingSentence({ standing }: { standing: Standing }): ReactNode {
  const t = useTranslate();
  const { alarmsByWeek } = standing;
  return (
    <>
      <DecidingSentence standing={standing} />
      {isRising(alarmsByWeek) ? ` ${t('fleet.rising', { counts: alarmsByWeek.join(', ') })}` : null}
    </>
  );
}

/** The sentence of the check that decides, after the event that most likely explains it. */
function DecidingSentence({ standing }: { standing: Standing }): ReactNode {
  const t = useTranslate();
  const dates = useDates();
  const check = standing.checks.find((candidate) => candidate.code === standing.checkCode) ?? standing.checks[0];
  if (check === undefined) return t('fleet.noChecks');
  if (isRight(check)) return t('fleet.allHold');
  const { lowPa, highPa, exists } = standing.window;
  if (exists === false && lowPa !== null && highPa !== null) {
    return t.rich('fleet.noWindow', {
      required: <Pressure pressurePa={lowPa} />,
      allowed: <Pressure pressurePa={highPa} />,
    });
  }
  const { fixtureSince, fixtureName } = standing;
  const isFixture = fixtureName !== null && check.subject?.name === fixtureName;
  const isRecent = fixtureSince !== null && Date.parse(standing.computedAt) - Date.parse(fixtureSince) < RECENT_MS;
  return (
    <>
      {isFixture && isRecent ? `${t('fleet.fixtureChanged', { date: dates.atDay(fixtureSince) })} ` : null}
      <CheckSentence check={check} />
    </>
  );
}
