'use client';

import type { LadderResult } from '@repo/contracts';
import Link from 'next/link';
import { useTranslate } from '@/lib/i18n/i18n';
import { Pressure } from '@/lib/quantity/number';
import { Facts } from '@/ui/sheet';
import { toRungId, toRungLabel, type Rung } from './rungs';
import { SiValue, useFigureName } from './si-value';
import styles from './checks.module.css';

/** Where a rung's thing is looked at. */
function toHref(rung: Rung): string | null {
  return rung.ref?.entity === 'component-type' ? `/component-types/${rung.ref.id}` : null;
}

/** What a rung is, how it came about, what from. */
export function RungDetail({ ladder, rungId }: { ladder: LadderResult; rungId: string }) {
  const t = useTranslate();
  const nameOf = useFigureName();
  const rung = ladder.rungs.find((candidate) => toRungId(ladder.rungs, candidate) === rungId);
  if (rung === undefined) return null;
  const href = toHref(rung);
  const isCalculation = t.find(`basis.${rung.basis}`) === null;
  const rows = [
    {
      name: t('rung.pressure'),
      value:
        rung.pressurePa === null ? (
          t('ladder.notKnown')
        ) : (
          <Pressure pressurePa={rung.pressurePa} halfWidthPa={rung.halfWidthPa} places={1} />
        ),
    },
    {
      name: t('rung.basis'),
      value: isCalculation ? (
        <Link href={`/calculations/${rung.basis}`}>{rung.basis}</Link>
      ) : (
        t.find(`basis.${rung.basis}`)
      ),
    },
    ...(rung.ref === null
      ? []
      : [{ name: t('rung.of'), value: href === null ? rung.ref.name : <Link href={href}>{rung.ref.name}</Link> }]),
    ...Object.entries(rung.parameters).map(([name, value]) => ({
      key: name,
      name: nameOf(name),
      value: <SiValue name={name} value={value} />,
    })),
  ];
  return (
    <div className={styles['body']}>
      <h3>{toRungLabel(rung, t)}</h3>
      <p>{t(`rung.${rung.code}.meaning`)}</p>
      <div className={styles['formula']}>{t(`rung.${rung.code}.formula`)}</div>
      <Facts rows={rows} />
    </div>
  );
}
