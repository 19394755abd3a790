'use client';

import { getKindInfo, parseQuantity, toSi, type QuantityKind } from '@repo/quantity';
import { useId, type ReactNode } from 'react';
import { Field, fieldStyles } from '@/ui/field';
import { useTranslate } from '@/lib/i18n/i18n';
import { adoptTypedUnit } from './typed-unit';

/** What stands in a quantity's field: the text as typed, and the unit beside it. */
export interface QuantityDraft {
  text: string;
  unit: string;
}

export type QuantityReading =
  { ok: true; quantity: { value: number; unit: string; digits: number } | null } | { ok: false; code: string };

/** Digits after the decimal point of a number as typed. */
function countPlaces(text: string): number {
  const decimals = /[.,](\d+)(?!.*[.,]\d)/.exec(text.replace(/[eE].*$/, ''));
  return Math.min(15, decimals?.[1]?.length ?? 0);
}

/** Reads the draft: an empty field is null, "2600 psi" goes before the unit chosen beside it. */
export function readQuantity(draft: QuantityDraft, kind: QuantityKind): QuantityReading {
  if (draft.text.trim() === '') return { ok: true, quantity: null };
  const result = parseQuantity(draft.text, { kind, defaultUnit: draft.unit });
  if (!result.ok) return { ok: false, code: result.problem.code };
  const { value, unit } = result.quantity;
  // Nothing is colder than absolute zero.
  if (kind === 'temperature' && toSi(value, unit, kind) < 0) return { ok: false, code: 'too-small' };
  return { ok: true, quantity: { value, unit, digits: countPlaces(draft.text) } };
}

export function QuantityField({
  label,
  hint,
  error,
  needed,
  id,
  kind,
  draft,
  onChange,
}: {
  label: string;
  hint?: ReactNode;
  error?: string | null | undefined;
  needed?: string | undefined;
  id?: string;
  kind: QuantityKind;
  draft: QuantityDraft;
  onChange: (draft: QuantityDraft) => void;
}) {
  const t = useTranslate();
  const made = useId();
  const units = getKindInfo(kind).displayUnits;
  const fieldId = id ?? made;
  return (
    <Field label={label} hint={hint} error={error} needed={needed} id={fieldId}>
      {(aria) => (
        <span className={fieldStyles['pair']}>
          <input
            {...aria}
            className={`${fieldStyles['input']} ${fieldStyles['number']}`}
            inputMode="decimal"
            autoComplete="off"
            value={draft.text}
            onChange={(event) => onChange({ ...draft, text: event.target.value })}
            onBlur={() => {
              const adopted = adoptTypedUnit(draft, kind);
              if (adopted !== draft) onChange({ ...draft, ...adopted });
            }}
          />
          <select
            className={`${fieldStyles['input']} ${fieldStyles['unit']}`}
            aria-label={t('quantity.unitOf', { label })}
            value={draft.unit}
            onChange={(event) => onChange({ ...draft, unit: event.target.value })}
          >
            {units.map(({ unit, symbol }) => (
              <option key={unit} value={unit}>
                {symbol === '' ? t('quantity.plain') : symbol}
              </option>
            ))}
          </select>
        </span>
      )}
    </Field>
  );
}
