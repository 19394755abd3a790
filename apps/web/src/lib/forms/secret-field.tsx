'use client';

import { useState, type ReactNode } from 'react';
import { useTranslate } from '@/lib/i18n/i18n';
import type { MessageKey } from '@/messages';
import { CheckField, TextField } from '@/ui/field';
import { readBadly, readWell, type ControlProps, type FieldDef } from './field-def';

interface About {
  label: MessageKey;
  hint?: MessageKey;
}

/** Of a new password; one that is known already may be as it is. */
const LENGTH = { least: 8, most: 128 };

const defineSecret = (
  { label, hint }: About,
  render: (control: ControlProps<string>) => ReactNode,
  isLongEnough: (draft: string) => boolean = () => true,
): FieldDef<string, string> => ({
  label,
  hint,
  isRequired: true,
  isSecret: true,
  isWide: true,
  toDraft: (value) => value,
  // Spaces may belong to it.
  read: (draft) => {
    if (draft === '') return readBadly('missing');
    return isLongEnough(draft) ? readWell(draft) : readBadly('too-short');
  },
  toText: () => '…',
  render,
});

/** A password that is known already, or another secret: kept nowhere. */
export const secret = (about: About & { autoComplete?: 'current-password' | 'off' }): FieldDef<string, string> =>
  defineSecret(about, ({ draft, errorOf: _errorOf, ...rest }) => (
    <TextField {...rest} type="password" autoComplete={about.autoComplete ?? 'off'} value={draft} />
  ));

function NewPasswordControl({ draft, errorOf: _errorOf, ...rest }: ControlProps<string>) {
  const t = useTranslate();
  const [isShown, setShown] = useState(false);
  return (
    <>
      <TextField
        {...rest}
        type={isShown ? 'text' : 'password'}
        autoComplete="new-password"
        autoCapitalize="off"
        spellCheck={false}
        value={draft}
      />
      <CheckField label={t('account.showPassword')} isChecked={isShown} onChange={setShown} />
    </>
  );
}

/** A new password, once, to be looked at on request: typed twice it would only be pasted twice. */
export const newPassword = (): FieldDef<string, string> =>
  defineSecret(
    { label: 'account.newPassword', hint: 'account.newPasswordHint' },
    (control) => <NewPasswordControl {...control} />,
    ({ length }) => length >= LENGTH.least && length <= LENGTH.most,
  );
