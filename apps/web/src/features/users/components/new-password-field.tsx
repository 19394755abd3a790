'use client';

import { useState } from 'react';
import { useTranslate } from '@/lib/i18n/i18n';
import { CheckField, TextField } from '@/ui/field';

/** A new password, once, to be looked at on request: typed twice it would only be pasted twice. */
export function NewPasswordField({
  id,
  error,
  value,
  onChange,
}: {
  id: string;
  error: string | null;
  value: string;
  onChange: (value: string) => void;
}) {
  const t = useTranslate();
  const [isShown, setShown] = useState(false);
  return (
    <>
      <TextField
        id={id}
        label={t('account.newPassword')}
        hint={t('account.newPasswordHint')}
        error={error}
        type={isShown ? 'text' : 'password'}
        autoComplete="new-password"
        autoCapitalize="off"
        spellCheck={false}
        value={value}
        onChange={onChange}
      />
      <CheckField label={t('account.showPassword')} isChecked={isShown} onChange={setShown} />
    </>
  );
}
