'use client';

import type { Standing } from '@repo/contracts';
import type { ReactNode } from 'react';
import { useDates, useTranslate } from '@/lib/i18n/i18n';
import { Pressure } from '@/lib/quantity/number';
import { CheckSentence } from '@/lib/pressure-ladder/sentences';

const RECENT_MS = 90 * 24 * 3600 * 1000;

/** The sentence of the check that decides, after the event that most likely explains it. */
export function StandingSentence({ standing }: { standing: Standing }): ReactNode {
  const t = useTranslate();
  const dates = useDates();
  const check = standing.checks.find((candidate) => candidate.code === standing.checkCode) ?? standing.checks[0];
  if (check === undefined) return t('fleet.noChecks');
  if (check.status === 'holds' || check.status === 'not-applicable') return t('fleet.allHold');
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
