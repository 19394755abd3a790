'use client';

import { routes, type IssueDetail } from '@repo/contracts';
import { Link } from '@/ui/link';
import { RuleEvidence, SilenceEvidence } from '@/features/alarm-counts';
import { useApi, useApiChange, useApiPages } from '@/lib/api/hooks';
import { area, RecordForm, useRecordForm } from '@/lib/forms';
import { useDates, useTranslate } from '@/lib/i18n/i18n';
import { isCustomerRole, useRole, useSession } from '@/lib/session/session';
import { Loaded, useProblemText } from '@/lib/states';
import { SelectField } from '@/ui/field';
import { Notice } from '@/ui/notice';
import { Facts, PageHead, Panel } from '@/ui/panel';
import { MainAndAside, StackedPanels } from '@/ui/stack';
import styles from './issues.module.css';

const COMMENT = {
  text: area({ label: 'issues.comment', isRequired: true }),
};

function NewComment({ issue }: { issue: IssueDetail }) {
  const t = useTranslate();
  const isCustomer = isCustomerRole(useRole());
  const form = useRecordForm({
    name: `comment:${issue.id}`,
    fields: COMMENT,
    initial: { text: '' },
  });
  const comment = useApiChange(routes.issues.comment, { onDone: () => form.clear() });
  const send = (isInternal: boolean, values: { text: string }): void =>
    comment.mutate(
      { params: { id: issue.id }, body: { id: form.id, ...values, isInternal } },
      { onError: form.takeFailure },
    );
  return (
    <RecordForm
      form={form}
      groups={[{ fields: ['text'] }]}
      label={t('issues.comment')}
      submitText={t(isCustomer ? 'issues.writeComment' : 'issues.sendToAll')}
      isPending={comment.isPending}
      onSubmit={(values) => send(false, values)}
      {...(isCustomer
        ? {}
        : { second: { text: t('issues.sendToStaff'), onSubmit: (values: { text: string }) => send(true, values) } })}
    />
  );
}

function Comments({ issue }: { issue: IssueDetail }) {
  const t = useTranslate();
  const dates = useDates();
  return (
    <Panel title={t('issues.comments')}>
      {issue.comments.length === 0 ? <p className={styles['quiet']}>{t('issues.noComments')}</p> : null}
      <ol className={styles['comments']}>
        {issue.comments.map((entry) => (
          <li key={entry.id}>
            <span className={styles['who']}>
              {entry.writtenByName} · {dates.atTime(entry.writtenAt)}
              {entry.isInternal ? ` · ${t('issues.internal')}` : ''}
            </span>
            <p>{entry.text}</p>
          </li>
        ))}
      </ol>
      <div className={styles['form']}>
        <NewComment issue={issue} />
      </div>
    </Panel>
  );
}

function Assign({ issue, etag }: { issue: IssueDetail; etag: string | null }) {
  const t = useTranslate();
  const toText = useProblemText();
  const { me } = useSession();
  const { items: people } = useApiPages(routes.memberships.list, { query: { staffOnly: 'true', limit: 200 } });
  const assign = useApiChange(routes.issues.update);
  return (
    <>
      <SelectField
        label={t('issues.assignee')}
        value={issue.assigneeMembershipId ?? ''}
        choices={[
          { value: '', label: t('issues.nobody') },
          ...people
            .filter((person) => person.archivedAt === null)
            .map((person) => ({
              value: person.id,
              label: person.id === me.membership.id ? t('issues.me', { name: person.displayName }) : person.displayName,
            })),
        ]}
        onChange={(value) =>
          assign.mutate({
            params: { id: issue.id },
            etag: etag ?? undefined,
            body: { assigneeMembershipId: value === '' ? null : value },
          })
        }
      />
      {assign.error === null ? null : <Notice role="alert">{toText(assign.error)}</Notice>}
    </>
  );
}

const CLOSE = { reason: area({ label: 'issues.closeReason', isRequired: true }) };
const REOPEN = { reason: area({ label: 'issues.reopenReason', isRequired: true }) };

function CloseOrReopen({ issue, etag }: { issue: IssueDetail; etag: string | null }) {
  const t = useTranslate();
  const isOpen = issue.state === 'open';
  const form = useRecordForm({
    name: `${isOpen ? 'close' : 'reopen'}:${issue.id}`,
    fields: isOpen ? CLOSE : REOPEN,
    initial: { reason: '' },
  });
  const change = useApiChange(isOpen ? routes.issues.close : routes.issues.reopen, { onDone: () => form.clear() });
  const text = isOpen ? t('issues.close') : t('issues.reopen');
  return (
    <RecordForm
      form={form}
      groups={[{ fields: ['reason'] }]}
      label={text}
      submitText={text}
      isPending={change.isPending}
      onSubmit={(body) =>
        change.mutate({ params: { id: issue.id }, etag: etag ?? undefined, body }, { onError: form.takeFailure })
      }
    />
  );
}

function Shown({ issue, etag }: { issue: IssueDetail; etag: string | null }) {
  const t = useTranslate();
  const dates = useDates();
  const isCustomer = isCustomerRole(useRole());
  const machineHref = isCustomer ? `/portal/machines/${issue.machineId}` : `/machines/${issue.machineId}`;
  const facts = [
    { name: t('issues.state'), value: t(`issues.state.${issue.state}`) },
    { name: t('issues.kind'), value: t(`issues.kind.${issue.kind}`) },
    ...(issue.machineId === null
      ? []
      : [{ name: t('fleet.machine'), value: <Link href={machineHref}>{issue.machineName}</Link> }]),
    ...(issue.circuitName === null ? [] : [{ name: t('fleet.circuit'), value: issue.circuitName }]),
    ...(issue.checkCode === null
      ? []
      : [{ name: t('issues.check'), value: t.find(`check.${issue.checkCode}.name`) ?? issue.checkCode }]),
    { name: t('fleet.customer'), value: issue.customerName },
    { name: t('issues.opened'), value: `${dates.atTime(issue.openedAt)}, ${issue.openedByName}` },
    ...(issue.closedAt === null
      ? []
      : [
          {
            name: t('issues.closed'),
            value: `${dates.atTime(issue.closedAt)}, ${issue.closedByName}: ${issue.closeReason}`,
          },
        ]),
  ];
  return (
    <>
      <PageHead
        crumbsLabel={t('nav.crumbs')}
        crumbs={[{ name: t('nav.issues'), href: '/issues' }]}
        title={t('issues.numbered', { number: issue.number, title: issue.title })}
        under={issue.state === 'closed' ? t('issues.closedUnder') : (issue.assigneeName ?? t('issues.nobodyYet'))}
      />
      <MainAndAside
        main={
          <>
            {issue.description === '' ? null : (
              <Panel title={t('issues.description')}>
                <p className={styles['text']}>{issue.description}</p>
              </Panel>
            )}
            {issue.evidence === null ? null : <RuleEvidence evidence={issue.evidence} />}
            {issue.silence === null ? null : <SilenceEvidence evidence={issue.silence} />}
            <Comments issue={issue} />
          </>
        }
        aside={
          <StackedPanels>
            <Panel title={t('issues.facts')}>
              <Facts rows={facts} />
            </Panel>
            {isCustomer ? null : (
              <Panel title={t('issues.settle')}>
                {issue.state === 'open' ? <Assign issue={issue} etag={etag} /> : null}
                <div className={styles['form']}>
                  <CloseOrReopen key={issue.state} issue={issue} etag={etag} />
                </div>
              </Panel>
            )}
          </StackedPanels>
        }
      />
    </>
  );
}

export function IssuePage({ issueId }: { issueId: string }) {
  const query = useApi(routes.issues.get, { params: { id: issueId } });
  return (
    <Loaded isPage query={query}>
      {({ data, etag }) => <Shown issue={data} etag={etag} />}
    </Loaded>
  );
}
