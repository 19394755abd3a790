'use client';

import type { Issue } from '@repo/contracts';
import { Link } from '@/ui/link';
import { useDates, useTranslate } from '@/lib/i18n/i18n';
import { Table } from '@/ui/table';

export function IssueTable({ issues }: { issues: readonly Issue[] }) {
  const t = useTranslate();
  const dates = useDates();
  return (
    <Table
      caption={t('nav.issues')}
      rows={issues}
      rowKey={(issue) => issue.id}
      columns={[
        {
          key: 'title',
          title: t('issues.issue'),
          isName: true,
          cell: (issue) => (
            <Link href={`/issues/${issue.id}`}>
              {t('issues.numbered', { number: issue.number, title: issue.title })}
            </Link>
          ),
        },
        {
          key: 'about',
          title: t('issues.about'),
          cell: (issue) =>
            [issue.machineName, issue.circuitName, issue.customerName].filter((part) => part !== null).join(', '),
        },
        {
          key: 'opened',
          title: t('issues.opened'),
          cell: (issue) =>
            t(issue.openedByCustomer ? 'issues.openedByCustomer' : 'issues.openedBy', {
              date: dates.atDay(issue.openedAt),
              name: issue.openedByName,
            }),
        },
        {
          key: 'assignee',
          title: t('issues.assignee'),
          cell: (issue) =>
            issue.state === 'closed' ? t('issues.state.closed') : (issue.assigneeName ?? t('issues.nobody')),
        },
      ]}
    />
  );
}
