'use client';

import { routes } from '@repo/contracts';
import { useApi, useApiChange } from '@/lib/api/hooks';
import { toBrowserName } from '@/lib/browser-name';
import { useDates, useTranslate } from '@/lib/i18n/i18n';
import { Loaded } from '@/lib/states';
import { Button } from '@/ui/button';
import { Panel } from '@/ui/panel';
import { Table } from '@/ui/table';

export function SessionsPanel() {
  const t = useTranslate();
  const dates = useDates();
  const query = useApi(routes.users.listSessions, {});
  const end = useApiChange(routes.users.endSession);
  const endOthers = useApiChange(routes.users.endOtherSessions);
  return (
    <Panel title={t('account.sessions')}>
      <Loaded query={query}>
        {({ data }) => (
          <>
            <Table
              caption={t('account.sessions')}
              rowKey={(session) => session.id}
              rows={data.items}
              columns={[
                {
                  key: 'agent',
                  title: t('account.browser'),
                  isName: true,
                  cell: (session) => (session.isThisOne ? t('account.thisOne') : toBrowserName(session.userAgent)),
                },
                { key: 'since', title: t('account.since'), cell: (session) => dates.atTime(session.createdAt) },
                { key: 'seen', title: t('account.lastSeen'), cell: (session) => dates.atTime(session.lastSeenAt) },
                {
                  key: 'end',
                  title: t('account.end'),
                  isActions: true,
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
            {data.items.length > 1 ? (
              <Button disabled={endOthers.isPending} onClick={() => endOthers.mutate({})}>
                {t('account.endOthers')}
              </Button>
            ) : null}
          </>
        )}
      </Loaded>
    </Panel>
  );
}
