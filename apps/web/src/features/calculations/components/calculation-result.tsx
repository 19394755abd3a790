'use client';

import type { OutputDescription } from '@repo/calc';
import { createContext, useContext } from 'react';
import { Symbol } from '@/lib/formula/formula';
import { useTranslate } from '@/lib/i18n/i18n';
import { toPlainText, toUnitSymbol } from '@/lib/quantity/format';
import { NumberWithUnit } from '@/lib/quantity/number';
import { toRounded } from '../digits';
import { toFieldTitle, upperFirst } from '../field-titles';
import { toWords } from '../forms';
import styles from './calculations.module.css';

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** More values than these are a curve, not something to read. */
const MOST_SHOWN = 24;

/** Significant digits that the inputs allow. */
const DigitsContext = createContext(6);

function Value({ value }: { value: unknown }) {
  const t = useTranslate();
  const digits = useContext(DigitsContext);
  if (value === null) return <span>{t('calculations.doesNotExist')}</span>;
  if (typeof value === 'number') return <NumberWithUnit number={toPlainText(toRounded(value, digits, false), 6)} />;
  if (typeof value === 'boolean') return <span>{value ? t('value.yes') : t('value.no')}</span>;
  if (typeof value === 'string') return <span>{value}</span>;
  if (Array.isArray(value)) {
    if (value.length > MOST_SHOWN) return <span>{t('calculations.manyValues', { count: value.length })}</span>;
    return value.length === 0 ? (
      <span>{t('value.none')}</span>
    ) : (
      value.map((item: unknown, index) => (
        <span key={index}>
          <Value value={item} />
          {index < value.length - 1 ? ', ' : ''}
        </span>
      ))
    );
  }
  if (isRecord(value)) {
    const { value: inner, unit } = value;
    if (typeof unit === 'string' && (typeof inner === 'number' || Array.isArray(inner))) {
      if (Array.isArray(inner) && inner.length > MOST_SHOWN) {
        return <span>{t('calculations.manyValues', { count: inner.length })}</span>;
      }
      const numbers = toShownNumbers(Array.isArray(inner) ? inner : [inner]).map((number) =>
        number === null ? t('calculations.doesNotExist') : toPlainText(toRounded(number, digits, true), 6),
      );
      return <NumberWithUnit number={numbers.join('; ')} unit={toUnitSymbol(unit)} />;
    }
    return <Parts of={value} />;
  }
  return <span>–</span>;
}

/** A record: its figures one after the other, those that do not exist left out. */
function Parts({ of: parts }: { of: Readonly<Record<string, unknown>> }) {
  const t = useTranslate();
  return (
    <span className={styles['parts']}>
      {Object.entries(parts)
        .filter(([, part]) => part !== null)
        .map(([name, part]) => (
          <span key={name}>
            <span className={styles['part']}>{toFieldTitle(t, name)}</span>{' '}
            {isTall(part) ? <Tall value={part} /> : <Value value={part} />}
          </span>
        ))}
    </span>
  );
}

/** What needs room: records and lists of them stand below their name, not beside it. */
const isTall = (value: unknown): boolean =>
  Array.isArray(value) ? value.some(isRecord) : isRecord(value) && !('unit' in value);

function Tall({ value }: { value: unknown }) {
  if (!Array.isArray(value)) return <Value value={value} />;
  return (
    <ol className={styles['entries']}>
      {value.map((item: unknown, index) => (
        <li key={index}>
          <Value value={item} />
        </li>
      ))}
    </ol>
  );
}

/** Rounding that a computation leaves beside large figures says nothing. */
function toShownNumbers(values: readonly unknown[]): (number | null)[] {
  const largest = values.reduce<number>((most, value) => Math.max(most, Math.abs(Number(value))), 0);
  return values.map((value) => (value === null ? null : Math.abs(Number(value)) < 1e-9 * largest ? 0 : Number(value)));
}

/** Numbers of a note, rounded for reading. */
function toNoteParameters({ parameters }: Readonly<Record<string, unknown>>): Record<string, string> {
  if (!isRecord(parameters)) return {};
  return Object.fromEntries(
    Object.entries(parameters).map(([name, value]) => [
      name,
      typeof value === 'number' ? toPlainText(value, 3) : toWords(String(value)),
    ]),
  );
}

/** Which single change helps most, as a sentence. */
function BestChange({ change }: { change: unknown }) {
  const t = useTranslate();
  if (!isRecord(change)) return null;
  const { kind, index, name, newForce, newFriction, newPoint, gain } = change;
  const text = t.findRich(`calculations.bestChange.${String(kind)}`, {
    number: Number(index) + 1,
    name: typeof name === 'string' ? ` (${name})` : '',
    force: <Value value={newForce} />,
    friction: <Value value={newFriction} />,
    point: <Value value={newPoint} />,
    gain: <Value value={gain} />,
  });
  return text === null ? null : <p className={styles['answer']}>{text}</p>;
}

/** What came out, each with its symbol and meaning. */
export function CalculationResult({
  result,
  outputs,
  digits,
}: {
  result: Readonly<Record<string, unknown>>;
  outputs: Readonly<Record<string, OutputDescription>>;
  digits: number;
}) {
  const t = useTranslate();
  const notes = Array.isArray(result['notes']) ? result['notes'].filter(isRecord) : [];
  return (
    <DigitsContext value={digits}>
      <BestChange change={result['bestChange']} />
      <table className={styles['results']}>
        <tbody>
          {Object.entries(result)
            .filter(([name]) => name !== 'notes')
            .map(([name, value]) => (
              <tr key={name}>
                <th scope="row" colSpan={isTall(value) ? 2 : 1}>
                  {upperFirst(toFieldTitle(t, name))}{' '}
                  {outputs[name]?.symbol === undefined ? null : <Symbol text={outputs[name].symbol} />}
                  <small>{outputs[name]?.meaning ?? ''}</small>
                  {isTall(value) ? <Tall value={value} /> : null}
                </th>
                {isTall(value) ? null : (
                  <td>
                    <Value value={value} />
                  </td>
                )}
              </tr>
            ))}
        </tbody>
      </table>
      {notes.length === 0 ? null : (
        <div className={styles['texts']}>
          <h3>{t('calculations.notes')}</h3>
          {notes.map((note, index) => (
            <p key={index}>
              {t.find(`calculationNote.${String(note['code'])}`, toNoteParameters(note)) ?? String(note['code'])}
            </p>
          ))}
        </div>
      )}
    </DigitsContext>
  );
}
