'use client';

import { useTranslate } from '@/lib/i18n/i18n';
import { QuantityField, type QuantityDraft } from '@/lib/quantity/quantity-field';
import { FieldRow } from '@/ui/field';
import { KINDS, SETTING_FIELDS, type SettingField } from '../forms';

export type SettingDrafts = Record<SettingField, QuantityDraft>;

/** The pressures that are set, in the order of the work: setting, switch, air, pump. */
export function SettingFields({
  drafts,
  onChange,
  idOf,
  errorOf,
}: {
  drafts: SettingDrafts;
  onChange: (field: SettingField, draft: QuantityDraft) => void;
  idOf: (field: string) => string;
  errorOf: (field: string) => string | null;
}) {
  const t = useTranslate();
  return (
    <FieldRow>
      {SETTING_FIELDS.map((field) => (
        <QuantityField
          key={field}
          id={idOf(field)}
          kind={KINDS[field]}
          label={t(`settings.${field}`)}
          error={errorOf(field)}
          draft={drafts[field]}
          onChange={(draft) => onChange(field, draft)}
        />
      ))}
    </FieldRow>
  );
}
