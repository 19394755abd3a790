'use client';

import { routes } from '@repo/contracts';
import { useApiChange } from '@/lib/api/hooks';
import { EntryForm, newPassword, secret, useEntryForm } from '@/lib/forms';
import { useTranslate } from '@/lib/i18n/i18n';
import { useSession } from '@/lib/session/session';
import { Panel } from '@/ui/panel';

const FIELDS = {
  currentPassword: secret({ label: 'account.currentPassword', autoComplete: 'current-password' }),
  newPassword: newPassword(),
};

export function PasswordPanel() {
  const t = useTranslate();
  const { me } = useSession();
  const form = useEntryForm({
    name: 'password',
    fields: FIELDS,
    initial: { currentPassword: '', newPassword: '' },
  });
  const change = useApiChange(routes.users.changePassword, { onDone: form.clear });
  return (
    <Panel title={t('account.password')}>
      <EntryForm
        form={form}
        label={t('account.password')}
        submitText={t('account.changePassword')}
        done={change.isSuccess ? t('account.passwordChanged') : ''}
        onSubmit={(body) => change.mutateAsync({ body })}
      >
        {/* Password managers learn from it whose password it is. */}
        <input hidden readOnly autoComplete="username" value={me.email} />
      </EntryForm>
    </Panel>
  );
}
