'use client';

import { routes } from '@repo/contracts';
import { useApiChange } from '@/lib/api/hooks';
import { EntryForm, text, useEntryForm } from '@/lib/forms';
import { useTranslate } from '@/lib/i18n/i18n';
import { applyTheme, type Theme } from '@/lib/preferences/theme';
import { UnitSwitch } from '@/lib/quantity/unit-switch';
import { useSession } from '@/lib/session/session';
import { Segments } from '@/ui/segments';
import { Facts, Panel } from '@/ui/panel';

export function ReadingPanel() {
  const t = useTranslate();
  const { me, etag } = useSession();
  const change = useApiChange(routes.users.updateMe);
  return (
    <Panel title={t('account.reading')}>
      <Facts
        rows={[
          { name: t('account.units'), value: <UnitSwitch /> },
          {
            name: t('account.theme'),
            value: (
              <Segments<Theme>
                label={t('account.theme')}
                value={me.theme}
                choices={[
                  { value: 'system', label: t('theme.system') },
                  { value: 'light', label: t('theme.light') },
                  { value: 'dark', label: t('theme.dark') },
                ]}
                onChange={(theme) => {
                  applyTheme(theme);
                  change.mutate({ body: { theme }, etag: etag ?? undefined });
                }}
              />
            ),
          },
        ]}
      />
    </Panel>
  );
}

const FIELDS = { displayName: text({ label: 'account.name', autoComplete: 'name', isRequired: true, maxLength: 120 }) };

export function NamePanel() {
  const t = useTranslate();
  const { me, etag } = useSession();
  const form = useEntryForm({ name: 'name', fields: FIELDS, initial: { displayName: me.displayName } });
  const change = useApiChange(routes.users.updateMe);
  return (
    <Panel title={t('account.person')}>
      <EntryForm
        form={form}
        label={t('account.person')}
        submitText={t('action.save')}
        done={change.isSuccess ? t('state.saved') : ''}
        onSubmit={(body) => change.mutateAsync({ body, etag: etag ?? undefined })}
      />
    </Panel>
  );
}
