'use client';

import type { OutputDescription } from '@repo/calc';
import { useTranslate } from '@/lib/i18n/i18n';
import { toPlainText, toUnitSymbol } from '@/lib/quantity/format';
import { NumberWithUnit } from '@/lib/quantity/number';
import { toWords } from '../forms';
import styles from './calculations.module.css';

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function Value({ value }: { value: unknown }) {
  const t = useTranslate();
  if (value === null) return <span>{t('calculations.doesNotExist')}</span>;
  if (typeof value === 'number') return <NumberWithUnit number={toPlainText(value, 6)} />;
  if (typeof value === 'boolean') return <span>{value ? t('value.yes') : t('value.no')}</span>;
  if (typeof value === 'string') return <span>{value}</span>;
  if (Array.isArray(value)) {
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
      const numbers = (Array.isArray(inner) ? inner : [inner]).map((number) => toPlainText(Number(number), 6));
      return <NumberWithUnit number={numbers.join('; ')} unit={toUnitSymbol(unit)} />;
    }
    return Object.entries(value).map(([name, part]) => (
      <span key={name}>
        {toWords(name)} <Value value={part} />
        <br />
      </span>
    ));
  }
  return <span>–</span>;
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

/** What came out, each with its symbol and meaning. */
export function CalculationResult({
  result,
  outputs,
}: {
  result: Readonly<Record<string, unknown>>;
  outputs: Readonly<Record<string, OutputDescription>>;
}) {
  const t = useTranslate();
  const notes = Array.isArray(result['notes']) ? result['notes'].filter(isRecord) : [];
  return (
    <>
      <table className={styles['results']}>
        <tbody>
          {Object.entries(result)
            .filter(([name]) => name !== 'notes')
            .map(([name, value]) => (
              <tr key={name}>
                <th scope="row">
                  {toWords(name)} <span className={styles['symbol']}>{outputs[name]?.symbol ?? ''}</span>
                  <small>{outputs[name]?.meaning ?? ''}</small>
                </th>
                <td>
                  <Value value={value} />
                </td>
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
    </>
  );
}
