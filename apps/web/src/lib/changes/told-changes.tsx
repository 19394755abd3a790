'use client';

import {
  CIRCUIT_FIGURES,
  COMPONENT_FIGURES,
  ELEMENT_FIGURES,
  FIXTURE_FIGURES,
  POWER_UNIT_FIGURES,
} from '@repo/calc/figures';
import type { QuantityKind } from '@repo/quantity';
import { Fragment, useMemo, type ReactNode } from 'react';
import { useDates, useTranslate, type Translate } from '@/lib/i18n/i18n';
import { isPressureUnit, toPlainText } from '@/lib/quantity/format';
import { Entered, NumberWithUnit } from '@/lib/quantity/number';
import { findFieldKey } from './field-words';
import { listChanges, type FieldChange } from './list-changes';
import styles from './told-changes.module.css';

/** So many stand there at once; the others are a press away. */
const SHOWN = 6;
const LONGEST = 120;
const DAY = /^\d{4}-\d{2}-\d{2}$/;
/** Of a text that is kept for good: its beginning tells it apart. */
const HASH = /^[0-9a-f]{64}$/;
/** A field that is kept in seconds says so at its end. */
const SECONDS = /[a-z]S$/;
const INSTANT = /^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}/;

/** What a figure measures, by its name; of what is no figure the unit says it. */
const KINDS = new Map<string, QuantityKind>(
  [CIRCUIT_FIGURES, FIXTURE_FIGURES, ELEMENT_FIGURES, POWER_UNIT_FIGURES, ...Object.values(COMPONENT_FIGURES)].flatMap(
    (figures) =>
      Object.entries(figures).flatMap(([name, figure]: [string, { kind?: QuantityKind }]): [string, QuantityKind][] =>
        figure.kind === undefined ? [] : [[name, figure.kind]],
      ),
  ),
);

const isQuantity = (value: unknown): value is { value: number; unit: string } =>
  typeof value === 'object' && value !== null && 'value' in value && 'unit' in value && typeof value.value === 'number';

/** `ratedPressure` → "rated pressure": for what no form has a word for. */
const toWords = (name: string): string => name.replace(/([a-z0-9])([A-Z])/g, '$1 $2').toLowerCase();
const upperFirst = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
const lowerFirst = (text: string): string => text.charAt(0).toLowerCase() + text.slice(1);

function toLabel(t: Translate, entity: string, path: readonly string[]): string {
  const key = findFieldKey(entity, path);
  const word = key === null ? upperFirst(toWords(path.at(-1) ?? '')) : t(key);
  // A thing of a list is named before its field.
  return path.length > 2 ? `${path.slice(1, -1).join(', ')}, ${lowerFirst(word)}` : word;
}

/** A word for a code: of a choice its form's, of a kind the catalogue's. */
function findChoice(t: Translate, entity: string, path: readonly string[], code: string): string | null {
  const key = findFieldKey(entity, path);
  const prefixes = [...(key === null ? [] : [key]), 'control.does', 'role', 'lineFunction', 'components.line'];
  return prefixes.map((prefix) => t.find(`${prefix}.${code}`)).find((word) => word !== null) ?? null;
}

function Value({ entity, path, value, names }: ToldProps & { path: readonly string[]; value: unknown }): ReactNode {
  const t = useTranslate();
  const dates = useDates();
  if (value === null || value === undefined) return t('value.notKnown');
  if (value === '') return t('value.none');
  if (typeof value === 'boolean') return value ? t('value.yes') : t('value.no');
  if (typeof value === 'number') {
    const duration = SECONDS.test(path.at(-1) ?? '') ? toDuration(value) : undefined;
    return <NumberWithUnit number={toPlainText(duration?.count ?? value)} unit={duration?.unit} />;
  }
  if (isQuantity(value)) {
    const kind = KINDS.get(path.at(-1) ?? '') ?? (isPressureUnit(value.unit) ? 'pressure' : 'ratio');
    return <Entered quantity={value} kind={kind} />;
  }
  if (Array.isArray(value)) {
    if (value.length === 0) return t('value.none');
    return value.map((one: unknown, index) => (
      <Fragment key={index}>
        {index === 0 ? '' : ', '}
        <Value entity={entity} path={path} value={nameOf(one)} names={names} changes={{}} />
      </Fragment>
    ));
  }
  if (typeof value !== 'string') return t('changes.several');
  if (HASH.test(value)) return <code>{value.slice(0, 12)}…</code>;
  const name = names[value];
  if (name !== undefined) return name;
  if (DAY.test(value)) return dates.onDay(value);
  if (INSTANT.test(value)) return dates.atTime(value);
  const text = findChoice(t, entity, path, value) ?? value;
  return text.length > LONGEST ? `${text.slice(0, LONGEST - 1)}…` : text;
}

/** In the largest unit that leaves it whole; a window of a day is one of 24 hours. */
function toDuration(seconds: number): { count: number; unit: 'h' | 'min' | 's' } {
  if (seconds % 3600 === 0) return { count: seconds / 3600, unit: 'h' };
  return seconds % 60 === 0 ? { count: seconds / 60, unit: 'min' } : { count: seconds, unit: 's' };
}

/** A thing of a list by its name, where it has one. */
const nameOf = (thing: unknown): unknown =>
  typeof thing === 'object' && thing !== null && 'name' in thing && typeof thing.name === 'string' ? thing.name : thing;

interface ToldProps {
  /** kind of the record */
  entity: string;
  changes: Readonly<Record<string, unknown>>;
  /** names of the records that are mentioned by their ids */
  names: Readonly<Record<string, string>>;
}

function Line({ change, ...props }: ToldProps & { change: FieldChange }) {
  const t = useTranslate();
  const field = toLabel(t, props.entity, change.path);
  const to = <Value {...props} path={change.path} value={change.to} />;
  if (!('from' in change)) return t.rich('changes.said', { field, value: to });
  const from = <Value {...props} path={change.path} value={change.from} />;
  return t.rich('changes.edit', { field, from, to });
}

/** What was changed, in words: each field with what it held before and holds now. */
export function ToldChanges(props: ToldProps) {
  const t = useTranslate();
  const all = useMemo(() => listChanges(props.changes), [props.changes]);
  if (all.length === 0) return <p className={styles['none']}>{t('changes.none')}</p>;
  const lines = all.map((change) => (
    <li key={change.path.join('.')}>
      <Line {...props} change={change} />
    </li>
  ));
  return (
    <>
      <ul className={styles['list']}>{lines.slice(0, SHOWN)}</ul>
      {lines.length <= SHOWN ? null : (
        <details>
          <summary>{t('changes.more', { count: lines.length - SHOWN })}</summary>
          <ul className={styles['list']}>{lines.slice(SHOWN)}</ul>
        </details>
      )}
    </>
  );
}
