'use client';

import type { CalculationDescription } from '@repo/calc';
import { routes } from '@repo/contracts';
import { useApi } from '@/lib/api/hooks';
import { Formula } from '@/lib/formula/formula';
import { useTranslate } from '@/lib/i18n/i18n';
import { Loaded } from '@/lib/states';
import { StateNote } from '@/ui/notice';
import { PageHead, Panel } from '@/ui/panel';
import { isCalculationDescription } from '../forms';
import { CalculationBench } from './calculation-bench';
import styles from './calculations.module.css';

function Texts({ calculation }: { calculation: CalculationDescription }) {
  const t = useTranslate();
  const parts = [
    ['calculations.method', calculation.method.join('\n')],
    ['calculations.assumes', calculation.assumes],
    ['calculations.range', calculation.range],
  ] as const;
  return (
    <Panel title={t('calculations.formula')}>
      {calculation.formula.length === 0 ? null : (
        <div className={styles['formula']} role="group" aria-label={t('calculations.formula')} tabIndex={0}>
          {calculation.formula.map((line) => (
            <Formula key={line} text={line} />
          ))}
        </div>
      )}
      <div className={styles['texts']}>
        {parts.map(([key, text]) =>
          text === '' ? null : (
            <div key={key}>
              <h3>{t(key)}</h3>
              <p>{text}</p>
            </div>
          ),
        )}
        <div>
          <h3>{t('calculations.sources')}</h3>
          {calculation.sources.map((source) => (
            <p key={source}>{source}</p>
          ))}
        </div>
      </div>
    </Panel>
  );
}

export function CalculationPage({ calculationId }: { calculationId: string }) {
  const t = useTranslate();
  const query = useApi(routes.calculations.get, { params: { id: calculationId } });
  return (
    <Loaded isPage query={query}>
      {({ data }) => {
        if (!isCalculationDescription(data))
          return <StateNote title={t('state.failed.title')}>{t('problem.unknown')}</StateNote>;
        return (
          <>
            <PageHead
              crumbsLabel={t('nav.crumbs')}
              crumbs={[{ name: t('nav.calculations'), href: '/calculations' }]}
              title={data.title}
              under={data.summary}
            />
            <CalculationBench calculation={data} texts={<Texts calculation={data} />} />
          </>
        );
      }}
    </Loaded>
  );
}
