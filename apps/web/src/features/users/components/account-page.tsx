'use client';

import { routes } from '@repo/contracts';
import { useState } from 'react';
import { useApi, useApiChange } from '@/lib/api/hooks';
import { useDates, useTranslate } from '@/lib/i18n/i18n';
import { applyTheme, type Theme } from '@/lib/preferences/theme';
import { UnitSwitch } from '@/lib/quantity/unit-switch';
import { useSession } from '@/lib/session/session';
import { Loaded, useProblemText } from '@/lib/states';
import { Button } from '@/ui/button';
import { Form, FormActions, TextField } from '@/ui/field';
import { Notice } from '@/ui/notice';
import { Segments } from '@/ui/segments';
import { Facts, PageHead, Sheet } from '@/ui/sheet';
import { Table } from '@/ui/table';
import { StackedSheets } from '@/ui/stack';

function Reading() {
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

function Name() {
  const t = useTranslate();
  const { me, etag } = useSession();
  const toText = useProblemText();
  const [displayName, setName] = useState(me.displayName);
  const change = useApiChange(routes.users.updateMe);
  return (
    <Sheet title={t('account.person')}>
      <Form onSubmit={() => change.mutate({ body: { displayName }, etag: etag ?? undefined })}>
        <TextField label={t('account.name')} value={displayName} onChange={setName} autoComplete="name" />
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

function Sessions() {
  const t = useTranslate();
  const dates = useDates();
  const query = useApi(routes.users.listSessions, {});
  const end = useApiChange(routes.users.endSession);
  return (
    <Sheet title={t('account.sessions')}>
      <Loaded query={query}>
        {({ data }) => (
          <Table
            caption={t('account.sessions')}
            rowKey={(session) => session.id}
            rows={data.items}
            columns={[
              {
                key: 'agent',
                title: t('account.browser'),
                isName: true,
                cell: (session) => (session.isThisOne ? t('account.thisOne') : session.userAgent),
              },
              { key: 'since', title: t('account.since'), cell: (session) => dates.atTime(session.createdAt) },
              { key: 'seen', title: t('account.lastSeen'), cell: (session) => dates.atTime(session.lastSeenAt) },
              {
                key: 'end',
                title: t('account.end'),
                cell: (session) =>
                  session.isThisOne ? (
                    ''
                  ) : (
                    <Button look="plain" onClick={() => end.mutate({ params: { id: session.id } })}>
                      {t('account.endSession')}
                    </Button>
                  ),
              },
            ]}
          />
        )}
      </Loaded>
    </Sheet>
  );
}

export function AccountPage() {
  const t = useTranslate();
  const { me } = useSession();
  return (
    <>
      <PageHead title={t('account.title')} under={me.email} />
      <StackedSheets>
        <Reading />
        <Name />
        <Sessions />
      </StackedSheets>
    </>
  );
}
