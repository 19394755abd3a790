'use client';

import { COMPONENT_FIGURES, figureKindOf, type ComponentKind } from '@repo/contracts';
import { formatQuantity, getKindInfo } from '@repo/quantity';
import { createContext, useContext, useMemo } from 'react';
import { useTranslate } from '@/lib/i18n/i18n';
import { SiValue, useFigureName } from '@/lib/pressure-ladder/si-value';
import { NumberWithUnit, Pressure } from '@/lib/quantity/number';
import { findInputWord, namesById, toChoiceWord } from '../input-words';
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

function Leaf({ group, name, value }: { group: string; name: string; value: unknown }) {
  const t = useTranslate();
  if (typeof value === 'number') return <SiValue name={name} value={value} />;
  if (value === null) return <span>{t('value.notKnown')}</span>;
  if (typeof value === 'boolean') return <span>{value ? t('value.yes') : t('value.no')}</span>;
  const words = (Array.isArray(value) ? value : [value]).map((one) => toChoiceWord(t, group, name, String(one)));
  return <span>{words.length === 0 ? t('value.none') : words.join(', ')}</span>;
}

/** A figure or a word of the input. What it is known by inside is shown by its name, or not at all. */
function Row({ group, name, value }: { group: string; name: string; value: unknown }) {
  const t = useTranslate();
  const nameOf = useFigureName();
  const names = useContext(Names);
  if (name === 'id') return null;
  if (!name.endsWith('Id') || typeof value !== 'string') {
    return (
      <div className={styles['row']}>
        <span>{findInputWord(t, group, name) ?? nameOf(name)}</span>
        <Leaf group={group} name={name} value={value} />
      </div>
    );
  }
  const called = names.get(value);
  return called === undefined ? null : (
    <div className={styles['row']}>
      <span>{nameOf(name.slice(0, -'Id'.length))}</span>
      <span>{called}</span>
    </div>
  );
}

function Group({ group, value }: { group: string; value: Readonly<Record<string, unknown>> }) {
  const nameOf = useFigureName();
  return Object.entries(value).map(([name, entry]) => {
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
              {isRecord(item) ? <Group group={name} value={withoutRef(item)} /> : null}
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
              <Group group={name} value={withoutRef(entry)} />
            )}
          </div>
        </details>
      );
    }
    return <Row key={name} group={group} name={name} value={entry} />;
  });
}

const Names = createContext<ReadonlyMap<string, string>>(new Map());

/** The whole input of a record, as it was recorded: lists and groups open, numbers stand in everyday units, fields are called as in forms. */
export function InputTree({ value }: { value: Readonly<Record<string, unknown>> }) {
  const names = useMemo(() => namesById(value), [value]);
  return (
    <Names value={names}>
      <div className={styles['tree']}>
        <Group group="" value={value} />
      </div>
    </Names>
  );
}

function withoutRef(value: Readonly<Record<string, unknown>>): Record<string, unknown> {
  return Object.fromEntries(Object.entries(value).filter(([name]) => name !== 'ref'));
}
