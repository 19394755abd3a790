'use client';

import type { PressureLadder } from '@repo/contracts';
import { Link } from '@/ui/link';
import type { ReactNode } from 'react';
import { useTranslate, type Translate } from '@/lib/i18n/i18n';
import { Pressure } from '@/lib/quantity/number';
import { Facts } from '@/ui/panel';
import { toGroupLabel, toRungGroups, toRungLabel, type Rung } from './rungs';
import { SiValue, useFigureName } from './si-value';
import styles from './checks.module.css';

/** How a rung came about: a word of ours, or the calculation that made it. */
function toBasis(rung: Rung, t: Translate): ReactNode {
  return t.find(`basis.${rung.basis}`) ?? <Link href={`/calculations/${rung.basis}`}>{rung.basis}</Link>;
}

function RungFacts({ rung }: { rung: Rung }) {
  const t = useTranslate();
  const nameOf = useFigureName();
  const rows = [
    {
      name: t('rung.pressure'),
      value:
        rung.pressurePa === null ? (
          t('value.notKnown')
        ) : (
          <Pressure pressurePa={rung.pressurePa} halfWidthPa={rung.halfWidthPa} places={1} />
        ),
    },
    { name: t('rung.basis'), value: toBasis(rung, t) },
    ...(rung.ref === null ? [] : [{ name: t('rung.of'), value: rung.ref.name }]),
    ...Object.entries(rung.parameters).map(([name, value]) => ({
      key: name,
      name: nameOf(name),
      value: <SiValue name={name} value={value} />,
    })),
  ];
  return <Facts rows={rows} />;
}

/** What stands at a mark: what it is, how it came about, what from. Components of one rating are listed one by one; `of` is the circuit, where a page shows several. */
export function RungDetail({
  ladder,
  rungId,
  of = null,
}: {
  ladder: PressureLadder;
  rungId: string;
  of?: string | null;
}) {
  const t = useTranslate();
  const group = toRungGroups(ladder.rungs).find((candidate) => candidate.id === rungId);
  if (group === undefined) return null;
  const [first] = group.rungs;
  return (
    <div className={styles['body']}>
      <h3>
        {of === null ? null : <>{of}: </>}
        {group.rungs.length === 1 || first.pressurePa === null
          ? toGroupLabel(group, t)
          : t.rich('rung.severalRated', {
              count: group.rungs.length,
              pressure: <Pressure pressurePa={first.pressurePa} places={1} />,
            })}
      </h3>
      <p>{t(`rung.${first.code}.meaning`)}</p>
      <div className={styles['formula']}>{t(`rung.${first.code}.formula`)}</div>
      {group.rungs.map((rung, index) => (
        <div key={`${rung.ref?.id ?? ''}${index}`}>
          {group.rungs.length === 1 ? null : <h3>{toRungLabel(rung, t)}</h3>}
          <RungFacts rung={rung} />
        </div>
      ))}
    </div>
  );
}
