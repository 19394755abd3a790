'use client';

import { routes } from '@repo/contracts';
import { Link } from '@/ui/link';
import { useApi } from '@/lib/api/hooks';
import { useTranslate } from '@/lib/i18n/i18n';
import { Loaded } from '@/lib/states';
import { SearchField } from '@/lib/search-field';
import { useUrlState } from '@/lib/url-state';
import { StateNote } from '@/ui/notice';
import { PageHead, Panel } from '@/ui/panel';
import { isCalculationDescription } from '../forms';
import { HAND_PRESSURE_LADDER, PRESSURE_LADDER_FIELDS } from '../hand-pressure-ladder';
import { nameCalculations } from '../name-calculations';
import styles from './calculations.module.css';

/** Every calculation that the product itself uses, to be used by hand: searched by word, grouped by what one wants to know. */
export function CalculationsPage() {
  const t = useTranslate();
  const { get } = useUrlState();
  const search = get('search') ?? '';
  const query = useApi(routes.calculations.list, {});
  return (
    <>
      <PageHead title={t('calculations.title')} under={t('calculations.under')} />
      <div className={styles['search']}>
        <SearchField name="search" label={t('calculations.search')} />
      </div>
      <Loaded query={query}>
        {({ data }) => {
          const words = search
            .toLowerCase()
            .split(/\s+/)
            .filter((word) => word !== '');
          const described: readonly unknown[] = data.items;
          const known = [
            ...described.filter(isCalculationDescription),
            {
              id: HAND_PRESSURE_LADDER,
              title: t('handPressureLadder.title'),
              summary: t('handPressureLadder.summary'),
              group: 'setting-and-switch' as const,
              inputs: PRESSURE_LADDER_FIELDS,
            },
          ];
          const matching = known.filter((item) => {
            const text = `${item.id} ${item.title} ${item.summary} ${Object.keys(item.inputs).join(' ')}`.toLowerCase();
            return words.every((word) => text.includes(word));
          });
          const groups = [...new Set(matching.map((item) => item.group))];
          if (matching.length === 0)
            return <StateNote title={t('calculations.none')}>{t('calculations.noneText')}</StateNote>;
          return (
            <div className={styles['groups']}>
              {groups.map((group) => (
                <Panel key={group} title={t.find(`calculationGroup.${group}`) ?? group}>
                  <div className={styles['group']}>
                    <ul>
                      {matching
                        .filter((item) => item.group === group)
                        .map((item) => (
                          <li key={item.id}>
                            <Link href={`/calculations/${item.id}`}>{item.title}</Link>
                            <p>{nameCalculations(item.summary, known)}</p>
                          </li>
                        ))}
                    </ul>
                  </div>
                </Panel>
              ))}
            </div>
          );
        }}
      </Loaded>
    </>
  );
}
