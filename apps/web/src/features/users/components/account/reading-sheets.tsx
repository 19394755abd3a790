'use client';

import { routes } from '@repo/contracts';
import { useState } from 'react';
import { useApiChange } from '@/lib/api/hooks';
import { useTranslate } from '@/lib/i18n/i18n';
import { applyTheme, type Theme } from '@/lib/preferences/theme';
import { UnitSwitch } from '@/lib/quantity/unit-switch';
import { useSession } from '@/lib/session/session';
import { useProblemText } from '@/lib/states';
import { Button } from '@/ui/button';
import { Form, FormActions, TextField } from '@/ui/field';
import { Notice } from '@/ui/notice';
import { Segments } from '@/ui/segments';
import { Facts, Sheet } from '@/ui/sheet';

export function ReadingSheet() {
  const t = useTranslate();
  const { me, etag } = useSession();
  const change = useApiChange(routes.users.updateMe);
  return (
    <Sheet title={t('account.reading')}>
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
    </Sheet>
  );
}

export function NameSheet() {
  const t = useTranslate();
  const { me, etag } = useSession();
  const toText = useProblemText();
  const [displayName, setName] = useState(me.displayName);
  const change = useApiChange(routes.users.updateMe);
  return (
    <Sheet title={t('account.person')}>
      <Form onSubmit={() => change.mutate({ body: { displayName }, etag: etag ?? undefined })}>
        <TextField
          label={t('account.name')}
          value={displayName}
          onChange={(typed) => {
            setName(typed);
            change.reset();
          }}
          autoComplete="name"
        />
        <FormActions>
          <Button type="submit" disabled={change.isPending || displayName.trim() === ''}>
            {t('action.save')}
          </Button>
          <span role="status">{change.isSuccess ? t('state.saved') : ''}</span>
        </FormActions>
        {change.error === null ? null : <Notice role="alert">{toText(change.error)}</Notice>}
      </Form>
    </Sheet>
  );
}
