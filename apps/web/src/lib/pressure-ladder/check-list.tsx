'use client';

import { useTranslate } from '@/lib/i18n/i18n';
import { getPlacesApart, toPlainText, toPressureText, toUnitSymbol } from '@/lib/quantity/format';
import { NumberWithUnit, Pressure } from '@/lib/quantity/number';
import { usePressureUnit } from '@/lib/quantity/pressure-unit';
import { Status } from '@/lib/status/status';
import { CheckNumber, toCheckNumber } from './check-number';
import { toParts } from './parts';
import type { Check } from './rungs';
import { CheckSentence, toMissingText } from './sentences';
import { SiValue, useFigureName } from './si-value';
import styles from './checks.module.css';

/** Demand / capacity, always in that order. */
function DemandAndCapacity({ check }: { check: Check }) {
  const t = useTranslate();
  const { unit } = usePressureUnit();
  const plain = check.numbers?.stated ?? check.numbers?.nominal ?? null;
  if (check.numbers !== undefined && plain !== null) {
    const [demand, capacity] = [plain.demand, plain.capacity].map((value) =>
      toCheckNumber(check.numbers?.kind ?? 'fact', value),
    );
    return (
      <NumberWithUnit number={`${demand?.number ?? ''} / ${capacity?.number ?? ''}`} unit={capacity?.unit ?? ''} />
    );
  }
  const margin = check.stated ?? check.nominal;
  if (margin === null) {
    return <span>{check.status === 'unproven' ? t('check.missingCount', { count: check.missing.length }) : ''}</span>;
  }
  const places = getPlacesApart(margin.demandPa, margin.capacityPa, unit);
  const show = (pa: number): string => toPressureText(pa, unit, { places }).number;
  return <NumberWithUnit number={`${show(margin.demandPa)} / ${show(margin.capacityPa)}`} unit={toUnitSymbol(unit)} />;
}

function CheckBody({ check }: { check: Check }) {
  const t = useTranslate();
  const nameOf = useFigureName();
  const margins = toMargins(check);
  const figures = Object.entries(check.parameters);
  return (
    <div className={styles['body']}>
      <p>
        <CheckSentence check={check} />
      </p>
      <div className={styles['formula']}>{t(`check.${check.code}.formula`)}</div>
      {margins.length > 0 ? (
        <table className={styles['figures']}>
          <thead>
            <tr>
              <th scope="col">{t('check.counted')}</th>
              <th scope="col">{t('check.demand')}</th>
              <th scope="col">{t('check.capacity')}</th>
              <th scope="col">{t('check.margin')}</th>
            </tr>
          </thead>
          <tbody>
            {margins.map(({ key, demand, capacity, margin }) => (
              <tr key={key}>
                <th scope="row">{t(`check.${key}`)}</th>
                <td>{demand}</td>
                <td>{capacity}</td>
                <td>{margin}</td>
              </tr>
            ))}
          </tbody>
        </table>
      ) : null}
      <table className={styles['figures']}>
        <tbody>
          {check.ratio === null ? null : (
            <tr>
              <th scope="row">{t('check.ratio')}</th>
              <td>
                <NumberWithUnit number={toPlainText(check.ratio, 3)} />
              </td>
            </tr>
          )}
          {check.probability === null ? null : (
            <tr>
              <th scope="row">{t('check.probability')}</th>
              <td>
                <NumberWithUnit number={toPercent(check.probability)} unit="%" />
              </td>
            </tr>
          )}
          <tr>
            <th scope="row">{t('check.marginAsked')}</th>
            <td>
              <NumberWithUnit number={toPlainText(check.marginAsked * 100, 3)} unit="%" />
            </td>
          </tr>
          {figures.map(([name, value]) => (
            <tr key={name}>
              <th scope="row">{nameOf(name)}</th>
              <td>
                <SiValue name={name} value={value} />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <Parts check={check} />
      <Faults check={check} />
      {check.missing.length === 0 ? null : <p>{t('check.missing', { missing: toMissingText(check, t) })}</p>}
      <p>{t('check.source', { source: check.source })}</p>
    </div>
  );
}

/** The three ways of counting, each number in its unit. */
function toMargins(check: Check) {
  const { numbers } = check;
  return (['nominal', 'stated', 'worstCase'] as const).flatMap((key) => {
    const plain = numbers?.[key];
    if (numbers !== undefined && plain !== undefined && plain !== null) {
      const show = (value: number) => <CheckNumber kind={numbers.kind} value={value} />;
      return [{ key, demand: show(plain.demand), capacity: show(plain.capacity), margin: show(plain.margin) }];
    }
    const pressures = check[key];
    if (pressures === null) return [];
    const show = (pressurePa: number, hasUnit: boolean) => (
      <Pressure pressurePa={pressurePa} places={1} hasUnit={hasUnit} />
    );
    return [
      {
        key,
        demand: show(pressures.demandPa, false),
        capacity: show(pressures.capacityPa, false),
        margin: show(pressures.marginPa, true),
      },
    ];
  });
}

/** Of a check of many parts those that do not hold, or are warned of. */
function Parts({ check }: { check: Check }) {
  const t = useTranslate();
  const { parts, caption } = toParts(check);
  if (parts.length === 0) return null;
  return (
    <table className={styles['figures']}>
      <caption>{t(caption)}</caption>
      <tbody>
        {parts.map(({ subject, status, reason }, index) => (
          <tr key={index}>
            <th scope="row">{subject?.name ?? t(`check.${check.code}.subject`)}</th>
            <td>{t.find(`check.part.${reason}`) ?? reason}</td>
            <td>
              <Status status={status} />
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

/** Rules that a single fault breaks: first what the control could cover, then what needs a second channel. */
function Faults({ check }: { check: Check }) {
  const t = useTranslate();
  return [false, true].map((needsSecondChannel) => {
    const rulesByFault = new Map<string, string[]>();
    for (const { fault, rule } of (check.faults ?? []).filter(
      (item) => item.needsSecondChannel === needsSecondChannel,
    )) {
      const ruleText = t.find(`interlock.rule.${rule}`) ?? rule;
      rulesByFault.set(fault, [...(rulesByFault.get(fault) ?? []), ruleText]);
    }
    if (rulesByFault.size === 0) return null;
    return (
      <section key={String(needsSecondChannel)} className={styles['faults']}>
        <h4>{t(needsSecondChannel ? 'check.faultsUncovered' : 'check.faultsCoverable')}</h4>
        <dl>
          {[...rulesByFault].map(([fault, rules]) => (
            <div key={fault}>
              <dt>{t.find(`interlock.fault.${fault}`) ?? fault}</dt>
              <dd>{rules.join('; ')}</dd>
            </div>
          ))}
        </dl>
      </section>
    );
  });
}

/** Never "100" for what is not certain, nor "0" for what can happen. */
function toPercent(probability: number): string {
  const percent = probability * 100;
  if (percent < 100 && percent > 99.9) return '> 99.9';
  if (percent > 0 && percent < 0.1) return '< 0.1';
  return percent === 100 || percent === 0 ? percent.toFixed(0) : percent.toFixed(1);
}

/** The checks of one circuit; each opens to its formula, figures and source. */
export function CheckList({ checks }: { checks: readonly Check[] }) {
  const t = useTranslate();
  return (
    <ul className={styles['list']}>
      {checks.map((check) => (
        <li key={check.code}>
          <details className={styles['check']}>
            <summary>
              <span className={styles['name']}>{t(`check.${check.code}.name`)}</span>
              <span className={styles['pair']}>
                <DemandAndCapacity check={check} />
              </span>
              <span className={styles['status']}>
                <Status status={check.status} />
              </span>
            </summary>
            <CheckBody check={check} />
          </details>
        </li>
      ))}
    </ul>
  );
}
