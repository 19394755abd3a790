'use client';

import { routes } from '@repo/contracts';
import { ExportButton } from '@/features/exports';
import { useApiPages } from '@/lib/api/hooks';
import { useTranslate } from '@/lib/i18n/i18n';
import { isCustomerRole, useSession } from '@/lib/session/session';
import { FailedNote } from '@/lib/states';
import { useUrlState } from '@/lib/url-state';
import { ListEnd } from '@/lib/list-end';
import { ButtonLink } from '@/ui/button';
import { LoadingNote, StateNote } from '@/ui/notice';
import { Segments } from '@/ui/segments';
import { PageHead, Panel } from '@/ui/panel';
import { StackedPanels } from '@/ui/stack';
import { IssueTable } from './issue-table';

const SHOWN = ['open', 'mine', 'closed'] as const;
type Shown = (typeof SHOWN)[number];

/** "What is not settled?" */
export function IssuesPage() {
  const t = useTranslate();
  const { me } = useSession();
  const { get, set } = useUrlState();
  const shown: Shown = SHOWN.find((value) => value === get('show')) ?? 'open';
  const isCustomer = isCustomerRole(me.membership.role);
  const { query, items } = useApiPages(routes.issues.list, {
    query: {
      limit: 100,
      state: shown === 'closed' ? 'closed' : 'open',
      ...(shown === 'mine' ? { assigneeMembershipId: me.membership.id } : {}),
    },
  });
  const unassigned = items.filter((issue) => issue.assigneeName === null).length;
  const title =
    shown !== 'open' || !query.isSuccess
      ? t(`issues.title.${shown}`)
      : items.length === 0
        ? t('issues.title.none')
        : t(query.hasNextPage ? 'issues.title.atLeast' : 'issues.title.count', { count: items.length });
  return (
    <>
      <PageHead
        title={title}
        under={
          shown === 'open' && unassigned > 0 && !isCustomer ? t('issues.unassigned', { count: unassigned }) : undefined
        }
        actions={
          <>
            <ExportButton tables={['issues', 'issue-comments']} />
            <ButtonLink href="/issues/new">{t('issues.new')}</ButtonLink>
          </>
        }
      />
      <StackedPanels>
        <div>
          <Segments<Shown>
            label={t('issues.show')}
            value={shown}
            choices={SHOWN.filter((value) => value !== 'mine' || !isCustomer).map((value) => ({
              value,
              label: t(`issues.show.${value}`),
            }))}
            onChange={(value) => set({ show: value === 'open' ? null : value })}
          />
        </div>
        {query.error !== null && items.length === 0 ? (
          <FailedNote error={query.error} onRetry={() => void query.refetch()} />
        ) : null}
        {query.isPending ? <LoadingNote text={t('state.loading')} /> : null}
        {query.isSuccess && items.length === 0 ? (
          <StateNote title={t('issues.empty')}>{t('issues.emptyText')}</StateNote>
        ) : null}
        {items.length === 0 ? null : (
          <Panel label={t('nav.issues')}>
            <IssueTable issues={items} />
            <ListEnd query={query} />
          </Panel>
        )}
      </StackedPanels>
    </>
  );
}
