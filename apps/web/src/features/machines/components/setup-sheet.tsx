'use client';

import type { PressureMarks } from '@repo/contracts';
import { useDates, useTranslate } from '@/lib/i18n/i18n';
import { MiniPressureLadder } from '@/lib/pressure-ladder/mini-pressure-ladder-view';
import { useSession } from '@/lib/session/session';
import styles from './setup-sheet.module.css';

const NO_MARKS: PressureMarks = {
  requiredPa: null,
  resetPointPa: null,
  setPointPa: null,
  settingPa: null,
  settingHalfWidthPa: null,
  workpieceLimitPa: null,
  weakestRatingPa: null,
  highestPossiblePa: null,
};
/** Each sign alone, in the middle of a short line, as it stands on the lines above. */
const SIGNS = [
  ['required', { requiredPa: 1 }],
  ['reset-point', { resetPointPa: 1 }],
  ['set-point', { setPointPa: 1 }],
  ['setting', { settingPa: 1, settingHalfWidthPa: 0.6 }],
  ['highest-possible', { highestPossiblePa: 1 }],
  ['workpiece-limit', { workpieceLimitPa: 1 }],
  ['rating', { weakestRatingPa: 1 }],
] as const satisfies readonly (readonly [string, Partial<PressureMarks>])[];

/** What the signs on a circuit's line of pressures stand for. */
export function SignKey() {
  const t = useTranslate();
  return (
    <dl className={styles['key']} aria-label={t('portal.signs')}>
      {SIGNS.map(([code, marks]) => (
        <div key={code}>
          <dt aria-hidden="true">
            <MiniPressureLadder marks={{ ...NO_MARKS, ...marks }} status="holds" lowPa={0} highPa={2} widthPx={44} />
          </dt>
          <dd>{t(`rung.${code}`)}</dd>
        </div>
      ))}
    </dl>
  );
}

/** What paper needs and a screen does not: of which day it is, whom to ask, and who gave and took it. */
export function PaperEnd() {
  const t = useTranslate();
  const dates = useDates();
  const { me } = useSession();
  return (
    <footer className={styles['paper']}>
      <p>
        {t('portal.printedOn', {
          date: dates.atDay(new Date().toISOString()),
          organisation: me.membership.organisationName,
        })}
      </p>
      <div className={styles['signatures']}>
        <span>{t('portal.handedOver')}</span>
        <span>{t('portal.received')}</span>
      </div>
    </footer>
  );
}
