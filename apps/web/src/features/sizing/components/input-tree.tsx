'use client';

import { COMPONENT_FIGURES, figureKindOf, type ComponentKind } from '@repo/contracts';
import { formatQuantity, getKindInfo } from '@repo/quantity';
import { useTranslate } from '@/lib/i18n/i18n';
import { SiValue, useFigureName } from '@/lib/pressure-ladder/si-value';
import { NumberWithUnit, Pressure } from '@/lib/quantity/number';
import styles from './sizing.module.css';

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function toTitle(value: unknown, fallback: string): string {
  if (!isRecord(value)) return fallback;
  const ref = isRecord(value['ref']) ? value['ref'] : value;
  return typeof ref['name'] === 'string' && ref['name'] !== '' ? ref['name'] : fallback;
}

const isComponentKind = (kind: unknown): kind is ComponentKind =>
  typeof kind === 'string' && Object.hasOwn(COMPONENT_FIGURES, kind);

/** The name of a component's figure says no unit: its kind does. */
function ComponentFigure({ kind, name, value }: { kind: ComponentKind; name: string; value: number }) {
  const figureKind = figureKindOf(kind, name) ?? 'ratio';
  if (figureKind === 'pressure') return <Pressure pressurePa={value} places={1} />;
  const unit = getKindInfo(figureKind).displayUnits[0]?.unit ?? '1';
  const { text, unitSymbol } = formatQuantity(value, unit, { digits: 4 });
  return <NumberWithUnit number={text} unit={unitSymbol} />;
}

function ComponentFigures({ kind, figures }: { kind: ComponentKind; figures: Readonly<Record<string, unknown>> }) {
  const t = useTranslate();
  return Object.entries(figures).map(([name, value]) => (
    <div className={styles['row']} key={name}>
      <span>{t.find(`componentFigure.${name}`) ?? name}</span>
      {typeof value === 'number' ? <ComponentFigure kind={kind} name={name} value={value} /> : null}
    </div>
  ));
}

function Leaf({ name, value }: { name: string; value: unknown }) {
  const t = useTranslate();
  if (typeof value === 'number') return <SiValue name={name} value={value} />;
  if (value === null) return <span>{t('value.notKnown')}</span>;
  if (typeof value === 'boolean') return <span>{value ? t('value.yes') : t('value.no')}</span>;
  if (Array.isArray(value)) return <span>{value.length === 0 ? t('value.none') : value.map(String).join(', ')}</span>;
  return <span>{(name === 'kind' ? t.find(`componentKind.${String(value)}`) : null) ?? String(value)}</span>;
}

/** The whole input of a record, as it was recorded: lists and groups open, numbers stand in everyday units. */
export function InputTree({ value }: { value: Readonly<Record<string, unknown>> }) {
  const nameOf = useFigureName();
  return (
    <div className={styles['tree']}>
      {Object.entries(value).map(([name, entry]) => {
        const list = Array.isArray(entry) && entry.some(isRecord) ? (entry as unknown[]) : null;
        if (list !== null) {
          return (
            <details key={name}>
              <summary>
                {nameOf(name)} ({list.length})
              </summary>
              {list.map((item, index) => (
                <div className={styles['inner']} key={index}>
                  <strong>{toTitle(item, String(index + 1))}</strong>
                  {isRecord(item) ? <InputTree value={withoutRef(item)} /> : null}
                </div>
              ))}
            </details>
          );
        }
        if (isRecord(entry)) {
          const { kind } = value;
          return (
            <details key={name}>
              <summary>{nameOf(name)}</summary>
              <div className={styles['inner']}>
                {name === 'figures' && isComponentKind(kind) ? (
                  <ComponentFigures kind={kind} figures={entry} />
                ) : (
                  <InputTree value={withoutRef(entry)} />
                )}
              </div>
            </details>
          );
        }
        return (
          <div className={styles['row']} key={name}>
            <span>{nameOf(name)}</span>
            <Leaf name={name} value={entry} />
          </div>
        );
      })}
    </div>
  );
}

function withoutRef(value: Readonly<Record<string, unknown>>): Record<string, unknown> {
  return Object.fromEntries(Object.entries(value).filter(([name]) => name !== 'ref'));
}
