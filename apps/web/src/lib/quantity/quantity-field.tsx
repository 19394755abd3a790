'use client';

import { getKindInfo, toUnitSymbol, type QuantityKind } from '@repo/quantity';
import { useId, type ReactNode } from 'react';
import { Field, fieldStyles } from '@/ui/field';
import { useTranslate } from '@/lib/i18n/i18n';
import type { QuantityDraft } from './quantity-draft';
import { adoptTypedUnit } from './typed-unit';

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
  const offered = getKindInfo(kind).displayUnits;
  // What was typed in a unit that is not offered stands in it.
  const units = offered.some(({ unit }) => unit === draft.unit)
    ? offered
    : [...offered, { unit: draft.unit, symbol: toUnitSymbol(draft.unit) }];
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
