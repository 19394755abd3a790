'use client';

import { routes } from '@repo/contracts';
import { useApi, useApiChange } from '@/lib/api/hooks';
import { toBrowserName } from '@/lib/browser-name';
import { useDates, useTranslate } from '@/lib/i18n/i18n';
import { Loaded, useProblemText } from '@/lib/states';
import { Button } from '@/ui/button';
import { Notice } from '@/ui/notice';
import { Table } from '@/ui/table';

/** Where a member is signed in to this organisation, for its administrator. */
export function MemberSessions({ id, name }: { id: string; name: string }) {
  const t = useTranslate();
  const dates = useDates();
  const toText = useProblemText();
  const query = useApi(routes.memberships.listSessions, { params: { id } });
  const end = useApiChange(routes.memberships.endSession);
  return (
    <Loaded query={query}>
      {({ data }) =>
        data.items.length === 0 ? (
          <p>{t('people.noSessions', { name })}</p>
        ) : (
          <>
            <Table
              caption={t('people.sessionsOf', { name })}
              rows={data.items}
              rowKey={(session) => session.id}
              columns={[
                {
                  key: 'agent',
                  title: t('account.browser'),
                  isName: true,
                  cell: (session) => toBrowserName(session.userAgent),
                },
                { key: 'since', title: t('account.since'), cell: (session) => dates.atTime(session.createdAt) },
                { key: 'seen', title: t('account.lastSeen'), cell: (session) => dates.atTime(session.lastSeenAt) },
                {
                  key: 'end',
                  title: t('account.end'),
                  isActions: true,
                  cell: (session) => (
                    <Button look="plain" onClick={() => end.mutate({ params: { id, sessionId: session.id } })}>
                      {t('account.endSession')}
                    </Button>
                  ),
                },
              ]}
            />
            {end.error === null ? null : <Notice role="alert">{toText(end.error)}</Notice>}
          </>
        )
      }
    </Loaded>
  );
}
