'use client';

import { routes } from '@repo/contracts';
import { useApiChange, useApiPages } from '@/lib/api/hooks';
import { toBrowserName } from '@/lib/browser-name';
import { useDates, useTranslate } from '@/lib/i18n/i18n';
import { ListEnd } from '@/lib/list-end';
import { useSession } from '@/lib/session/session';
import { Button } from '@/ui/button';
import { Panel } from '@/ui/panel';
import { Table } from '@/ui/table';

/** What happened to the account: the way in which somebody notices that it was not them. */
export function NoticesPanel() {
  const t = useTranslate();
  const dates = useDates();
  const { me } = useSession();
  const { query, items } = useApiPages(routes.users.listNotices, { query: { limit: 10 } });
  const see = useApiChange(routes.users.seeNotices);
  if (items.length === 0) return null;
  return (
    <Panel
      id="notices"
      title={me.unseenNotices > 0 ? t('account.unseen', { count: me.unseenNotices }) : t('account.notices')}
      note={
        me.unseenNotices > 0 ? (
          <Button look="plain" disabled={see.isPending} onClick={() => see.mutate({})}>
            {t('account.seen')}
          </Button>
        ) : undefined
      }
    >
      <Table
        caption={t('account.notices')}
        rows={items}
        rowKey={(notice) => notice.id}
        columns={[
          {
            key: 'what',
            title: t('account.noticeWhat'),
            isName: true,
            cell: ({ kind, details }) => {
              const role = details['role'];
              const { userAgent } = details;
              return t(`notice.${kind}`, {
                ...details,
                ...(role === undefined ? {} : { role: t.find(`role.${role}`) ?? role }),
                ...(userAgent === undefined ? {} : { userAgent: toBrowserName(userAgent) }),
              });
            },
          },
          { key: 'when', title: t('account.noticeWhen'), cell: ({ createdAt }) => dates.atTime(createdAt) },
        ]}
      />
      <ListEnd query={query} />
    </Panel>
  );
}
