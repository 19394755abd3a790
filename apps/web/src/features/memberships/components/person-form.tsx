'use client';

import { routes, type CreatedInvitation, type Membership } from '@repo/contracts';
import { useState } from 'react';
import { callApi } from '@/lib/api/client';
import { useApi, useApiChange, useApiPages } from '@/lib/api/hooks';
import { choice, RecordForm, text, useRecordForm } from '@/lib/forms';
import { useTranslate, type Translate } from '@/lib/i18n/i18n';
import { isCustomerRole } from '@/lib/session/session';
import { LoadedForForm } from '@/lib/states';
import { Notice } from '@/ui/notice';
import { LinkShown } from './link-shown';

const STAFF = ['engineer', 'installer', 'lead', 'administrator'] as const;
const OF_CUSTOMER = ['viewer', 'customer-administrator'] as const;
const ALL = [...STAFF, ...OF_CUSTOMER] as const;
type AnyRole = (typeof ALL)[number];

const roleField = (roles: readonly AnyRole[], t: Translate) => ({
  ...choice({
    label: 'people.role',
    choices: roles.map((value) => ({
      value,
      label: t('people.roleMay', { role: t(`role.${value}`), may: t(`people.may.${value}`) }),
    })),
  }),
  isWide: true,
});

const emailField = text({ label: 'signIn.email', type: 'email', isRequired: true, maxLength: 254 });

/** Invites a person: a link is shown this once. Nobody is told here whether they have an account. */
export function InviteForm({ onDone }: { onDone: () => void }) {
  const t = useTranslate();
  const [made, setMade] = useState<CreatedInvitation | null>(null);
  const { items: customers } = useApiPages(routes.customers.list, { query: { limit: 200 } });
  const fields = {
    email: emailField,
    displayName: text({ label: 'account.name', isRequired: true, maxLength: 120 }),
    role: roleField(ALL, t),
    customerId: choice({
      label: 'fleet.customer',
      choices: [
        { value: 'none', label: t('people.pickCustomer') },
        ...customers.map(({ id, name }) => ({ value: id, label: name })),
      ],
    }),
  };
  const form = useRecordForm({
    name: 'invitation-new',
    fields,
    initial: { email: '', displayName: '', role: 'installer', customerId: 'none' },
    check: (values) =>
      isCustomerRole(values.role) && values.customerId === 'none'
        ? [{ field: 'customerId', text: t('fieldProblem.missing', { label: t('fleet.customer') }) }]
        : [],
  });
  const role = ALL.find((known) => known === form.drafts.role) ?? 'installer';
  const create = useApiChange(routes.invitations.create);
  if (made !== null) return <LinkShown invitation={made} onDone={onDone} />;
  return (
    <RecordForm
      form={form}
      groups={[
        { fields: ['email', 'displayName'] },
        { fields: ['role', ...(isCustomerRole(role) ? (['customerId'] as const) : [])] },
      ]}
      label={t('people.add')}
      submitText={t('people.makeLink')}
      isPending={create.isPending}
      onSubmit={(values) =>
        create.mutate(
          {
            body: { id: form.id, ...values, customerId: isCustomerRole(values.role) ? values.customerId : null },
          },
          {
            onError: form.takeFailure,
            onSuccess: ({ data }) => {
              form.clear();
              setMade(data);
            },
          },
        )
      }
    >
      <p>{t('people.linkGivesAccess')}</p>
    </RecordForm>
  );
}

/** A link by which a person gets back to a membership whose account they can no longer use. */
export function HandOverForm({ person, onDone }: { person: Membership; onDone: () => void }) {
  const t = useTranslate();
  const [made, setMade] = useState<CreatedInvitation | null>(null);
  const form = useRecordForm({ name: `hand-over-${person.id}`, fields: { email: emailField }, initial: { email: '' } });
  const create = useApiChange(routes.invitations.handOver);
  if (made !== null) return <LinkShown invitation={made} onDone={onDone} />;
  return (
    <RecordForm
      form={form}
      groups={[{ fields: ['email'] }]}
      label={t('people.handOver', { name: person.displayName })}
      submitText={t('people.makeLink')}
      isPending={create.isPending}
      onSubmit={({ email }) =>
        create.mutate(
          { params: { id: person.id }, body: { id: form.id, email } },
          {
            onError: form.takeFailure,
            onSuccess: ({ data }) => {
              form.clear();
              setMade(data);
            },
          },
        )
      }
    >
      <p>{t('people.handOverMeans', { name: person.displayName })}</p>
    </RecordForm>
  );
}

function ChangeForm({ person, etag, onDone }: { person: Membership; etag: string | null; onDone: () => void }) {
  const t = useTranslate();
  const params = { id: person.id };
  const fields = {
    displayName: text({ label: 'account.name', isRequired: true, maxLength: 120 }),
    role: roleField(person.customerId === null ? STAFF : OF_CUSTOMER, t),
    state: choice({
      label: 'people.state',
      choices: [
        { value: 'active', label: t('people.active') },
        { value: 'ended', label: t('people.ended') },
      ],
    }),
  };
  const toValues = (membership: Membership) => ({
    displayName: membership.displayName,
    role: membership.role,
    state: membership.archivedAt === null ? ('active' as const) : ('ended' as const),
  });
  const form = useRecordForm({
    name: `person-${person.id}`,
    fields,
    initial: toValues(person),
    etag,
    readAgain: async () => {
      const answer = await callApi(routes.memberships.get, { params });
      return { ...answer, data: toValues(answer.data) };
    },
  });
  const change = useApiChange(routes.memberships.update, {
    onDone: form.clearThen(onDone),
  });
  return (
    <RecordForm
      form={form}
      groups={[{ fields: ['displayName', 'role', 'state'] }]}
      label={t('people.change')}
      submitText={t('action.save')}
      isPending={change.isPending}
      onSubmit={(_values, { state, ...changed }) =>
        change.mutate(
          {
            params,
            etag: form.etag,
            body: { ...changed, ...(state === undefined ? {} : { archived: state === 'ended' }) },
          },
          { onError: form.takeFailure },
        )
      }
    >
      {form.drafts.state === 'ended' ? <Notice role="status">{t('people.endMeans')}</Notice> : null}
    </RecordForm>
  );
}

export function ChangePersonForm({ id, onDone }: { id: string; onDone: () => void }) {
  const query = useApi(routes.memberships.get, { params: { id } });
  return (
    <LoadedForForm query={query}>
      {({ data, etag }) => <ChangeForm person={data} etag={etag} onDone={onDone} />}
    </LoadedForForm>
  );
}
